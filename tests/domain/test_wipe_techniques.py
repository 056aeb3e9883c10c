"""Which technique is refused on which kind of drive, and what is suggested.

NIST SP 800-88 Rev. 1, table A-8, as quoted by eecatalog.com (2016-06-08): flash is cleared by overwriting or
ATA secure erase. Table A-5 and the rest from memory; that degaussing does nothing to flash is physics.
"""

from __future__ import annotations

import pytest

from bench.domain.wipe import CLEAR, DESTROY, METHODS, PURGE
from bench.domain.wipe_techniques import ANY, TECHNIQUES, check_technique, kinds_of, suggested, why_not
from bench.errors import BadInput

HARD_DISK, SATA_SSD, NVME = "hard disk, SATA", "SSD, SATA", "SSD, NVMe"


@pytest.mark.parametrize(
    ("media_type", "kinds"),
    [
        (HARD_DISK, {"hard disk"}),
        ("HDD", {"hard disk"}),
        (SATA_SSD, {"SATA SSD"}),
        ("SATA SSD", {"SATA SSD"}),
        ("mSATA", {"SATA SSD"}),
        (NVME, {"NVMe drive"}),
        ("NVMe drive", {"NVMe drive"}),
        ("SSD", {"SATA SSD", "NVMe drive"}),
        ("solid-state", {"SATA SSD", "NVMe drive"}),
        ("SATA drive", {"hard disk", "SATA SSD"}),
        ("ATA drive", {"hard disk", "SATA SSD"}),
        ("", set()),
        ("data cartridge", set()),
        ("eMMC", set()),
    ],
)
def test_what_a_media_type_may_mean(media_type: str, kinds: set[str]) -> None:
    assert kinds_of(media_type) == kinds


@pytest.mark.parametrize(
    ("method", "technique", "media_type", "refused"),
    [
        (PURGE, "Degaussed", NVME, True),
        (PURGE, "degauss", "SSD", True),
        (PURGE, "degauss", HARD_DISK, False),
        (PURGE, "degauss", "SATA drive", False),
        (PURGE, "NVMe sanitize, block erase", SATA_SSD, True),
        (PURGE, "NVMe sanitize, block erase", NVME, False),
        (CLEAR, "NVMe format, user data erase", NVME, False),
        (CLEAR, "ATA secure erase", NVME, True),
        (CLEAR, "ATA secure erase", SATA_SSD, False),
        (PURGE, "block erase", HARD_DISK, True),
        (PURGE, "block erase", SATA_SSD, False),
        (PURGE, "overwrite, one pass", SATA_SSD, True),
        (PURGE, "overwritten three times", NVME, True),
        (PURGE, "NVMe sanitize, overwrite", NVME, False),
        (CLEAR, "overwrite, one pass", NVME, False),
        (PURGE, "ATA sanitize, overwrite", HARD_DISK, False),
        (DESTROY, "shred", NVME, False),
        (PURGE, "degauss", "", False),
        (PURGE, "a way of its own", NVME, False),
    ],
)
def test_what_cannot_work_is_refused(method: str, technique: str, media_type: str, refused: bool) -> None:
    assert bool(why_not(method, technique, media_type)) == refused
    if refused:
        with pytest.raises(BadInput, match=f"does not {method} this drive") as caught:
            check_technique(method, technique, media_type)
        assert suggested(method, media_type)[0] in caught.value.remedy
    else:
        assert check_technique(method, technique, media_type) == technique


@pytest.mark.parametrize("media_type", [HARD_DISK, SATA_SSD, NVME, "SSD", "SATA drive", ""])
@pytest.mark.parametrize("method", METHODS)
def test_what_is_suggested_is_never_refused(method: str, media_type: str) -> None:
    found = suggested(method, media_type)
    assert found
    assert not any(why_not(method, technique, media_type) for technique in found)


def test_every_technique_works_on_something_known() -> None:
    assert all(one.works_on and one.works_on <= ANY and one.method in METHODS for one in TECHNIQUES)
    assert "degauss" in suggested(PURGE, HARD_DISK)
    assert "degauss" not in suggested(PURGE, NVME)
    assert "ATA secure erase" not in suggested(PURGE, SATA_SSD)
