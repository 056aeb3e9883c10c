"""Text from people: kept clean, shown harmless, exported inert."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.text import cell_for_csv, clean_line, clean_note, for_display, quoted
from bench.errors import BadInput

ANY_TEXT = st.text(st.characters(codec=None, exclude_categories=()), max_size=60)
FORBIDDEN = [
    "\x00",
    "\x07",
    "\x1b[31m",
    "\x7f",
    "\x9b",
    "\u202e",
    "\u2066",
    "\u2069",
    "\u200b",
    "\u00ad",
    "\ufeff",
    "\ud800",
]


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("  loose hinge ", "loose hinge"),
        ("cafe\u0301", "caf\u00e9"),
        ("[/] 50% done [bold]", "[/] 50% done [bold]"),
        ("👩\u200d🔧 ok ✔\ufe0f", "👩\u200d🔧 ok ✔\ufe0f"),
        ("液晶 مرحبا", "液晶 مرحبا"),
        ("ends in a newline\n", "ends in a newline"),
    ],
)
def test_a_line_is_kept_as_typed(typed, kept):
    assert clean_line(typed, "The model") == kept


@pytest.mark.parametrize("bad", FORBIDDEN)
def test_control_and_direction_characters_are_refused_by_name(bad):
    code = f"U\\+{ord(bad[0]):04X}"

    with pytest.raises(BadInput, match=f"The model holds a character that cannot be shown .{code}"):
        clean_line(f"a{bad}b", "The model")
    with pytest.raises(BadInput, match=f"The note holds a character that cannot be shown .{code}"):
        clean_note(f"a{bad}b", "The note")


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r", "\u2028", "\u2029"])
def test_a_line_is_one_line(end):
    with pytest.raises(BadInput, match="The model has more than one line"):
        clean_line(f"a{end}b", "The model")
    assert clean_note(f"a{end}b", "The note") == "a\nb"


def test_a_tab_has_no_place_in_a_line_and_is_blanks_in_a_note():
    with pytest.raises(BadInput, match=r"U\+0009"):
        clean_line("a\tb", "The model")
    assert clean_note("a\tb", "The note") == "a   b"


def test_empty_lines_are_refused_unless_allowed():
    with pytest.raises(BadInput, match="The model is empty"):
        clean_line("  ", "The model")
    assert clean_line("  ", "The model", allow_empty=True) == ""
    assert clean_note("  ", "The note") == ""


def test_length_counts_composed_characters():
    assert clean_line("e\u0301" * 200, "The model") == "é" * 200
    with pytest.raises(BadInput, match="The model has 201 characters; 200 is the most"):
        clean_line("e" * 201, "The model")
    with pytest.raises(BadInput, match="The note has 10001 characters; 10000 is the most"):
        clean_note("e" * 10_001, "The note")
    with pytest.raises(BadInput, match="6 characters; 5 is the most"):
        clean_line("abcdef", "The model", longest=5)


@given(ANY_TEXT)
def test_what_was_accepted_is_accepted_again_unchanged(typed):
    for clean in (clean_line, clean_note):
        try:
            kept = clean(typed, "It")
        except BadInput:
            continue
        assert clean(kept, "It") == kept
        assert kept.encode().decode() == kept


@given(ANY_TEXT)
def test_nothing_shown_can_act_on_a_terminal(typed):
    shown = for_display(typed)

    assert not {unicodedata.category(c) for c in shown} & {"Cc", "Cf", "Cs", "Zl", "Zp"}
    assert "\ufe0f" not in shown
    assert unicodedata.is_normalized("NFC", shown)
    assert for_display(shown) == shown


@pytest.mark.parametrize(
    ("kept", "shown"),
    [
        ("👩\u200d🔧 ✔\ufe0f", "👩🔧 ✔"),
        ("one\ntwo\r\nthree", "one ⏎ two ⏎ three"),
        ("a\tb", "a b"),
        ("\x1b[31mred", "\ufffd[31mred"),
        ("pay \u202eRUE 5", "pay \ufffdRUE 5"),
        ("e\u0301", "é"),
        ("[bold]", "[bold]"),
    ],
)
def test_display(kept, shown):
    assert for_display(kept) == shown


def test_a_quotation_is_short_and_harmless():
    assert quoted(" abc ") == "“abc”"
    assert quoted("x" * 40) == f"“{'x' * 40}”"
    assert quoted("x" * 100_000) == f"“{'x' * 39}…”"
    assert quoted("\x1b]0;title\x07") == "“\ufffd]0;title\ufffd”"
    assert len(quoted("\n" + "\n".join("ab" * 50))) <= 42


# Sources: OWASP, CSV Injection; OWASP ASVS 5.0 requirement 1.2.10; CWE-1236.
@pytest.mark.parametrize(
    "cell",
    [
        "=1+1",
        "+1+1",
        "-1+1",
        "@SUM(A1)",
        "\t=1",
        "\r=1",
        "\n=1",
        "  =1",
        "\u00a0=1",
        "＝1",
        "=",
        "-",
        "+49 123",
        "-12.50 EUR",
        "\tx",
    ],
)
def test_cells_that_a_spreadsheet_would_run_become_text(cell):
    assert cell_for_csv(cell) == "'" + cell


@pytest.mark.parametrize(
    "cell", ["", "abc", "12", "-12.50", "+3", "-12,50", " -5", "a=b", "a\tb", "2026-W48", "mail@place", "  "]
)
def test_other_cells_stay(cell):
    assert cell_for_csv(cell) == cell
