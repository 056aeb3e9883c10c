"""The words of a listing: names filled in, what is empty left out, and no template that hides a fault."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.condition.renewed import subject_of_part
from bench.domain.listing_template import BUILT_IN, MUST, NAMES, Line, filled, read_template
from bench.errors import BadInput

LEAST = "$title\n\n$faults\n\n$not_tested"


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("$title $faults $not_tested $colour", r"A listing knows no name \$colour\."),
        ("$faults $not_tested, 5 $ off", "begins no name"),
        ("$Faults $faults $not_tested", r"knows no name \$Faults\."),
        ("$title $not_tested", r"leaves out \$faults\."),
        ("$faults", r"leaves out \$not_tested\."),
        ("$$faults $$not_tested", r"leaves out \$faults, \$not_tested\."),
        ("a sentence", r"leaves out \$faults, \$not_tested\."),
        (LEAST + "x" * 10_000, "longer|too long|10"),
    ],
)
def test_a_template_that_says_nothing_true_is_refused(text: str, sentence: str) -> None:
    with pytest.raises(BadInput, match=sentence):
        read_template(text)


def test_a_template_is_kept_as_typed() -> None:
    assert read_template(f"  {LEAST}\n\n$$ 5 off, ${{tag}}\r\n") == f"{LEAST}\n\n$$ 5 off, ${{tag}}"
    assert read_template(" \n ") == ""
    assert read_template(f"{BUILT_IN}\n") == ""  # what the program says may change with it


def test_the_built_in_one_knows_every_name_but_the_shops_own() -> None:
    values = {name: name.upper() for name in NAMES}
    told = "\n".join(line.words for lines in filled("", values) for line in lines)
    assert [name for name in NAMES if name.upper() not in told] == ["tag", "shop"]


def test_a_list_alone_in_its_line_is_a_list_and_elsewhere_a_sentence() -> None:
    values = {"faults": ("lid cracked", "key E sticks"), "not_tested": ("ports",)}
    assert filled("Known\n$faults\n\nMind: $faults; not tested: ${not_tested}.\n\n${not_tested}", values) == (
        (Line("Known"), Line("", "faults", ("lid cracked", "key E sticks"))),
        (Line("Mind: lid cracked; key E sticks; not tested: ports."),),
        (Line("", "not_tested", ("ports",)),),
    )


def test_what_stands_for_nothing_goes_with_its_heading() -> None:
    values = {"title": "Model 5", "price": "", "work": (), "warranty": "a year"}
    text = "$title\nfor $price\n\nWork\n$work\n \nTerms\n$shipping\n$warranty\n\nBye, $$"
    told = [[line.words for line in lines] for lines in filled(text, values)]
    assert told == [["Model 5"], ["Terms", "a year"], ["Bye, $"]]


@given(st.text(max_size=60))
def test_what_is_filled_in_is_never_read_for_names(text: str) -> None:
    values = {"title": f"x{text}$faults", "faults": (f"$title{text}",), "not_tested": ("-",)}
    assert filled(f"by $title\n{LEAST}", values)[0][0].words == f"by x{text}$faults"
    assert filled("$faults", values) == ((Line("", "faults", (f"$title{text}",)),),)


@given(st.text(alphabet="$ {}_abfoulstnedzäß\n", max_size=80))
def test_what_is_kept_can_always_be_filled_in(text: str) -> None:
    try:
        template = read_template(text)
    except BadInput:
        return
    told = filled(template, dict.fromkeys(NAMES, ("told",)))
    assert template == "" or all(f"${name}" in template or f"${{{name}}}" in template for name in MUST)
    assert told


@pytest.mark.parametrize(
    ("part", "subject"),
    [
        ("battery pack", "battery"),
        ("Fan with heatsink", "heat"),
        ("screen cable", "screen"),
        ("keyboard", "keyboard"),
        ("USB port", "ports"),
        ("report card", ""),  # a word, not a part of one
        ("memory 8 GB", ""),
    ],
)
def test_the_readings_that_a_part_changes(part: str, subject: str) -> None:
    """Common practice, no source."""
    assert subject_of_part(part) == subject
