"""Which technique wipes which kind of drive: what is suggested, and what is refused because it cannot work.

After NIST SP 800-88 Rev. 1, appendix A, tables A-5 (magnetic) and A-8 (flash), read in quotation; Rev. 2 of
2025-09-26 leaves techniques to IEEE 2883, whose text was not at hand. What is not known here, technique or
kind of drive, is the person's to judge: it is neither suggested nor refused.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from bench.domain.wipe import CLEAR, DESTROY, PURGE
from bench.errors import BadInput

MAGNETIC, ATA_FLASH, NVME = "hard disk", "SATA SSD", "NVMe drive"
FLASH = frozenset((ATA_FLASH, NVME))
ATA = frozenset((MAGNETIC, ATA_FLASH))
ANY = frozenset((MAGNETIC, ATA_FLASH, NVME))

TECHNIQUES_SOURCE = (
    "after NIST SP 800-88 Rev. 1, tables A-5 and A-8, read in quotation; IEEE 2883 not compared"
)
CRYPTO_HINT = "A crypto erase counts only where the drive encrypted everything on it from the start."


class Technique(NamedTuple):
    """A technique as it is suggested: for which method, and on which kinds of drive it works."""

    name: str
    method: str
    works_on: frozenset[str]


TECHNIQUES: tuple[Technique, ...] = (
    Technique("overwrite, one pass", CLEAR, ANY),
    Technique("ATA secure erase", CLEAR, frozenset((ATA_FLASH,))),
    Technique("NVMe format, user data erase", CLEAR, frozenset((NVME,))),
    Technique("ATA secure erase", PURGE, frozenset((MAGNETIC,))),
    Technique("ATA sanitize, overwrite", PURGE, frozenset((MAGNETIC,))),
    Technique("ATA sanitize, block erase", PURGE, frozenset((ATA_FLASH,))),
    Technique("ATA sanitize, crypto erase", PURGE, ATA),
    Technique("NVMe sanitize, block erase", PURGE, frozenset((NVME,))),
    Technique("NVMe sanitize, crypto erase", PURGE, frozenset((NVME,))),
    Technique("degauss", PURGE, frozenset((MAGNETIC,))),
    Technique("shred", DESTROY, ANY),
    Technique("disintegrate", DESTROY, ANY),
    Technique("incinerate, by a licensed business", DESTROY, ANY),
)


class _Rule(NamedTuple):
    """Words in a technique (a pattern) that tell it works on some kinds only, and why."""

    words: str
    works_on: frozenset[str]
    why: str


_RULES = (
    _Rule(r"degauss", frozenset((MAGNETIC,)), "flash holds no magnetism to remove"),
    _Rule(r"\bnvme\b", frozenset((NVME,)), "only an NVMe drive knows that command"),
    _Rule(r"\bs?ata\b", ATA, "an NVMe drive does not know ATA commands"),
    _Rule(r"\bblock erase", FLASH, "only flash is erased in blocks"),
)
_KINDS: tuple[tuple[str, frozenset[str]], ...] = (
    (r"nvme", frozenset((NVME,))),
    (r"hard (disk|drive)|\bhdd\b|magnetic", frozenset((MAGNETIC,))),
    (r"emmc|\bufs\b|\busb\b", frozenset()),
    (r"\bs?ata\b.*(ssd|solid state|flash)|(ssd|solid state|flash).*\bs?ata\b|msata", frozenset((ATA_FLASH,))),
    (r"ssd|solid state|flash", FLASH),
    (r"\bs?ata\b", ATA),
)


def kinds_of(media_type: str) -> frozenset[str]:
    """The kinds of drive that a typed media type may mean; empty where it tells none."""
    words = media_type.casefold().replace("-", " ")
    return next((kinds for sign, kinds in _KINDS if re.search(sign, words)), frozenset())


def suggested(method: str, media_type: str) -> tuple[str, ...]:
    """Techniques of a method that work on every kind the media type may mean, else on one of them.

    All of the method's where the media type tells no kind.
    """
    kinds = kinds_of(media_type)
    of_method = [one for one in TECHNIQUES if one.method == method]
    on_all = [one for one in of_method if kinds <= one.works_on]
    return tuple(one.name for one in on_all or [one for one in of_method if kinds & one.works_on])


def why_not(method: str, technique: str, media_type: str) -> str:
    """Why a technique cannot do what the method claims on that kind of drive; empty: nothing is known."""
    kinds, words = kinds_of(media_type), technique.casefold()
    if not kinds or method == DESTROY:
        return ""
    for rule in _RULES:
        if re.search(rule.words, words) and not kinds & rule.works_on:
            return rule.why
    if method == PURGE and "overwrit" in words and "sanitize" not in words and kinds <= FLASH:
        return "an overwrite reaches only what can be addressed: on flash it clears, it does not purge"
    return ""


def check_technique(method: str, technique: str, media_type: str) -> str:
    """The same technique, if nothing is known against it on that kind of drive; BadInput otherwise."""
    why = why_not(method, technique, media_type)
    if why:
        other = "; ".join(suggested(method, media_type))
        raise BadInput(
            f"{technique} does not {method} this drive ({media_type}): {why}.",
            f"Say what was really done, or use {other}." if other else "Say what was really done.",
        )
    return technique
