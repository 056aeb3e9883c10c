"""`bench manual`: its topics, a page as plain text, all of it for `man`."""

from __future__ import annotations

import re
import shutil
import subprocess

import pytest

from bench.manual.pages import TOPICS, read_page
from bench.manual.roff import line_of, literal, roff_of
from tests.docs.tables import commands
from tests.test_cli import Did, Refused

# Of man(7), https://man7.org/linux/man-pages/man7/man.7.html, and the requests of roff that the page uses.
MACROS = {".TH", ".SH", ".SS", ".PP", ".TP", ".IP", ".RS", ".RE", ".B", ".RI", ".nf", ".fi"}


def test_without_a_topic_they_are_listed(did: Did) -> None:
    told = did("manual")
    assert [line.split()[0] for line in told.splitlines()[2:]] == [*TOPICS, "json"]


@pytest.mark.parametrize("topic", TOPICS)
def test_a_page_is_told_whole_within_the_width(did: Did, topic: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    told = did("manual", topic)
    assert told.startswith(read_page(topic).title.upper())
    set_in = [line for line in told.splitlines() if line.startswith("    ")]
    assert all(len(line) <= 80 for line in told.splitlines() if line not in set_in)
    for heading in (block.text for block in read_page(topic).blocks if block.level == 2):
        assert f"\n{heading}\n" in told


def test_a_topic_that_is_none_is_one_sentence(refused: Refused) -> None:
    assert "no page “cooking”" in refused(3, "manual", "cooking")


def test_the_page_for_man_tells_every_command_and_every_page(did: Did) -> None:
    roff = did("manual", "--man")
    assert {line.split()[0] for line in roff.splitlines() if line.startswith(".")} <= MACROS
    assert not any(line.startswith("'") for line in roff.splitlines())
    told = re.findall(r"^\.SS bench ([\w\\-]+)", roff, re.MULTILINE)
    assert [name.replace("\\", "") for name in told] == list(commands())
    for topic in set(TOPICS) - {"keys", "commands"}:
        assert f".SH {literal(read_page(topic).title.upper())}\n" in roff


@pytest.mark.parametrize("formatter", ["groff", "mandoc"])
def test_a_formatter_finds_nothing_wrong_with_it(did: Did, formatter: str) -> None:
    """Outside check: groff with all warnings, mandoc by its lint; each where it is installed."""
    if shutil.which(formatter) is None:
        pytest.skip(f"no {formatter} here")
    roff = did("manual", "--man")
    by = {
        "groff": ["groff", "-man", "-K", "utf8", "-T", "utf8", "-ww", "-z"],
        "mandoc": ["mandoc", "-T", "lint", "-W", "warning"],
    }
    ran = subprocess.run(by[formatter], input=roff, capture_output=True, text=True, check=False)
    assert (ran.returncode, ran.stdout, ran.stderr) == (0, "", "")


def test_text_is_no_request_and_no_escape() -> None:
    assert line_of(".SH is text") == r"\&.SH is text"
    assert line_of(r"a\b 'x' `--to`") == r"a\eb \(aqx\(aq \fB\-\-to\fR"
    assert roff_of(()) == ""
