"""What an extra brings, where it is not there: one sentence that names it."""

from __future__ import annotations

import sys
from collections.abc import Callable

import pytest

from bench.errors import NotInstalled
from bench.reports.label_codes import qr_modules
from bench.reports.workbook import workbook


@pytest.mark.parametrize(
    ("library", "extra", "act"),
    [
        ("segno", "labels", lambda: qr_modules("B3")),
        ("xlsxwriter", "xlsx", lambda: workbook([])),
    ],
)
def test_a_library_that_is_not_there_is_named_with_its_extra(
    monkeypatch: pytest.MonkeyPatch, library: str, extra: str, act: Callable[[], object]
) -> None:
    monkeypatch.setitem(sys.modules, library, None)
    with pytest.raises(NotInstalled, match=rf"'\.\[{extra}\]'"):
        act()
