"""Finding among many names: words that are the same, begin so or hold it, then those nearly so; ranked.

All names of a kind are one text, a line each, so that to look through a hundred thousand is one search.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cached_property
from typing import NamedTuple

FEW = 3  # found as typed; where there are fewer and none is the very word, what is nearly so follows
LOOKED_AT = 2_000  # lines of a kind that hold one word typed, at most, to see whether they hold the others
LEAST_NEARLY = 3  # letters from which a word may be meant that leaves some out
LEAST_MISTYPED = 4  # letters from which one may be wrong, too many, missing or in the other's place
NEAR_WORDS = 30  # that may be meant by one typed
CHUNK = 100_000  # characters whose words are told apart at once: other threads come to their turn between
NAMED, WHOLE, START, INSIDE = 4, 3, 2, 1
OF_THE_PRESENT = 1.5
_OR_NEXT_WORD = r"(?:[^ \n]* )?"  # between two letters: nothing, or the rest of a word and a blank

_MARKS = re.compile("[\u0300-\u036f]")
_APART = re.compile(r"[^\w\n]|_")
_ASCII_APART = {at: " " for at in range(128) if _APART.match(chr(at))}


class Found(NamedTuple):
    """A line that was found. `nearly`: not as it was typed."""

    kind: str
    line: int
    score: float
    nearly: bool


class Names:
    """Names as lines of text, those first that are likelier meant. `present`: they are of the present."""

    def __init__(self, lines: str, *, present: bool = True) -> None:
        self.present = present
        self.text = "\n " + folded(lines).replace("\n", " \n ") + " \n" if lines else "\n"

    @cached_property
    def words(self) -> str:
        """Each word of it once, each on a line."""
        told: dict[str, None] = {}
        at = 0
        while at < len(self.text):
            end = self.text.find("\n", at + CHUNK)
            end = len(self.text) if end < 0 else end
            told.update(dict.fromkeys(self.text[at:end].split()))
            at = end
        return "\n" + "\n".join(told) + "\n"


def folded(text: str) -> str:
    """The text without capitals, accents and marks between words; lines stay lines."""
    text = text.casefold()
    if text.isascii():
        return text.translate(_ASCII_APART)
    return _APART.sub(" ", _MARKS.sub("", unicodedata.normalize("NFKD", text)))


def terms_of(typed: str) -> tuple[str, ...]:
    """What was typed as the words that must all be there; "CH-65" is one, of two parts beside each other."""
    terms = (" ".join(folded(one).split()) for one in typed.split())
    return tuple(dict.fromkeys(one for one in terms if one))


def find(named: Mapping[str, Names], typed: str, most: int) -> list[Found]:
    """The lines that hold all words typed, the best first: as typed, then what is nearly so where few are.

    Of lines that are alike, those of the present come first, then in the order of the kinds and the lines.
    What is nearly so is looked for in the past only where the present has nothing.
    """
    terms = terms_of(typed)
    if not terms:
        return []
    found = [hit for kind, names in named.items() for hit in _found(kind, names, terms, most)]
    if len(found) < FEW and not any(hit.score >= WHOLE for hit in found):
        have = {(hit.kind, hit.line) for hit in found}
        near = [_Near(term) for term in terms]
        for present in (True, False):
            of_it = ((kind, names) for kind, names in named.items() if names.present is present)
            hits = (hit for kind, names in of_it for hit in _nearly(kind, names, near, most))
            found += [hit for hit in hits if (hit.kind, hit.line) not in have]
            if found:
                break
    order = {kind: place for place, kind in enumerate(named)}
    found.sort(key=lambda hit: (hit.nearly, -hit.score, order[hit.kind], hit.line))
    return found[:most]


def _found(kind: str, names: Names, terms: Sequence[str], most: int) -> list[Found]:
    scores = {}
    for start, line in _lines(names.text, max(terms, key=len), most):
        if all(term in line for term in terms):
            scores[start] = sum(_points(line, term) for term in terms) / len(terms)
    return _counted(kind, names, scores, nearly=False)


def _points(line: str, term: str) -> int:
    if f" {term} " in line and len(term) > 1:
        # A number at the beginning names the thing, such as a tag.
        return NAMED if line.startswith(f" {term} ") and not term.isalpha() else WHOLE
    return START if f" {term}" in line else INSIDE


def _lines(text: str, term: str, most: int) -> Iterator[tuple[int, str]]:
    """Lines that hold the term: as a word, at a word's start, anywhere; each with where it begins."""
    seen: set[int] = set()
    for wanted in (f" {term} ", f" {term}", term):
        told, at = 0, text.find(wanted)
        while at >= 0 and told < most and len(seen) < LOOKED_AT:
            start, end = text.rfind("\n", 0, at) + 1, text.find("\n", at)
            if start not in seen:
                seen.add(start)
                told += 1
                yield start, text[start:end]
            at = text.find(wanted, end)


def _counted(kind: str, names: Names, scores: Mapping[int, float], *, nearly: bool) -> list[Found]:
    """The lines that begin there, by their number."""
    counted: list[Found] = []
    line, before = -1, 0
    for start in sorted(scores):
        line += names.text.count("\n", before, start)
        before = start
        score = scores[start] + (OF_THE_PRESENT if names.present else 0)
        counted.append(Found(kind, line, score, nearly))
    return counted


class _Near:
    """What may be meant by a word typed: a letter mistyped, some left out, first ones of several words."""

    def __init__(self, term: str) -> None:
        self.term = term
        letters = [re.escape(letter) for letter in term]
        self._left_out = _left_out(term) if len(term) >= LEAST_NEARLY and " " not in term else None
        mistyped = len(term) >= LEAST_MISTYPED and term.isalpha()
        # A figure that is wrong names another thing: only words are put right.
        self._mistyped = re.compile(rf"\n({_one_off(letters)}[^\W\d]*)(?=\n)") if mistyped else None
        long = len(term) >= LEAST_MISTYPED
        self._together = re.compile(f" ({' ?'.join(letters)})") if long else None
        self._first_ones = re.compile(f" ({_OR_NEXT_WORD.join(letters)})") if long else None

    def words(self, names: Names) -> tuple[str, ...]:
        """The words among these names that may be meant, the term itself among them; the likelier first."""
        found = {self.term: None} if self.term in names.text else {}
        if self._mistyped is not None:
            found |= _first(one[1] for one in self._mistyped.finditer(names.words))
        if self._together is not None:
            found |= _first(one[1] for one in self._together.finditer(names.text))
        if self._first_ones is not None and not found:
            found |= _first(one[1] for one in self._first_ones.finditer(names.text))
        if self._left_out is not None and not found:
            found |= _first(one[1] for one in self._left_out.finditer(names.words))
        return tuple(found)


def _first(words: Iterable[str]) -> dict[str, None]:
    told: dict[str, None] = {}
    for word in words:
        told[word] = None
        if len(told) == NEAR_WORDS:
            break
    return told


def _left_out(term: str) -> re.Pattern[str]:
    """A word that begins with the first letter and has the others in their order."""
    first, *others = (re.escape(letter) for letter in term)
    rest = "".join(rf"[^\n{letter}]*{letter}" for letter in others)
    return re.compile(rf"\n({first}{rest}[^\n]*)")


def _one_off(letters: Sequence[str]) -> str:
    """The letters but for one that is another, missing, too many, or in its neighbour's place."""
    if not letters:
        return "[^\\n]?"
    first, rest = letters[0], "".join(letters[1:])
    wrong = [f"[^\\n]{rest}", f"[^\\n]{first}{rest}", rest]
    if len(letters) > 1:
        wrong.append(letters[1] + first + "".join(letters[2:]))
    return f"(?:{first}{_one_off(letters[1:])}|{'|'.join(wrong)})"


def _nearly(kind: str, names: Names, near: Sequence[_Near], most: int) -> list[Found]:
    meant = []
    for one in near:
        words = one.words(names)
        if not words:
            return []
        meant.append(words)
    rarest = min(meant, key=len)
    scores: dict[int, float] = {}
    for word in rarest:
        for start, line in _lines(names.text, word, most):
            if all(any(f" {other}" in line for other in words) for words in meant):
                scores[start] = max(scores.get(start, 0), 1 / (1 + rarest.index(word)))
        if len(scores) >= most:
            break
    return _counted(kind, names, scores, nearly=True)
