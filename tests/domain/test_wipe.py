"""Methods and results; what counts as wiped."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.domain.wipe import FAILED, METHODS, NOT_VERIFIED, PASSED, check_method, check_result
from bench.errors import BadInput
from bench.views.drives import DriveLine, DriveSheet, UnwipedReason, WipeLine
from tests.wipes import DRIVE, WIPE


def drive(*results: str) -> DriveLine:
    return replace(DRIVE, wipes=tuple(replace(WIPE, result=result) for result in results))


def test_only_the_methods_of_the_standard() -> None:
    assert list(METHODS) == ["clear", "purge", "destroy"]
    assert check_method("purge") == "purge"
    for wrong in ("", "wipe"):
        with pytest.raises(BadInput, match="clear, purge, destroy"):
            check_method(wrong)


def test_a_verification_passes_or_fails() -> None:
    assert check_result(PASSED) == PASSED
    for wrong in ("", NOT_VERIFIED, "maybe"):
        with pytest.raises(BadInput, match="passed or failed"):
            check_result(wrong)


@pytest.mark.parametrize(
    ("newest_first", "wiped"),
    [
        ((), False),
        ((PASSED,), True),
        ((FAILED,), False),
        ((NOT_VERIFIED,), False),
        ((PASSED, FAILED), True),
        ((FAILED, PASSED), False),
        ((NOT_VERIFIED, PASSED), False),
    ],
)
def test_the_newest_wipe_is_what_counts(newest_first: tuple[str, ...], wiped: bool) -> None:
    line = drive(*newest_first)
    assert line.wiped is wiped
    sheet = DriveSheet(1, "10014", "Model", (line, drive(PASSED)), None, "UTC")
    assert sheet.may_be_listed is wiped
    assert len(sheet.not_wiped) == (not wiped)
    assert replace(sheet, unwiped=UnwipedReason("asked for", "Ada", 0)).may_be_listed


def test_a_drive_has_a_name_whatever_is_known() -> None:
    assert DRIVE.name == "Invented NV-512 NV512-0001"
    assert replace(DRIVE, maker="", model="", serial="").name == "drive 7"
    assert drive().standing == "no wipe record"
    assert drive(FAILED).standing == "purge, failed"
    assert isinstance(WIPE, WipeLine)
