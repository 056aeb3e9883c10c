"""All that is wrong with what was typed is told at once, each fault as its field's."""

from __future__ import annotations

import pytest

from bench.domain.typed import TypedFields, read_field, read_whole
from bench.errors import BadInput, SeveralBadInputs


def test_what_can_be_read_passes() -> None:
    fields = TypedFields()
    assert fields.read("count", read_whole, "3", "The count", 0, 9) == 3
    fields.check()
    assert read_field("count", read_whole, "4", "The count", 0, 9) == 4


def test_one_fault_is_raised_with_its_field() -> None:
    fields = TypedFields()
    fields.read("count", read_whole, "x", "The count", 0, 9)
    with pytest.raises(BadInput, match="The count") as caught:
        fields.check()
    assert (caught.value.field, len(caught.value.faults)) == ("count", 1)


def test_several_faults_are_told_at_once_in_the_order_of_reading() -> None:
    fields = TypedFields()
    fields.read("second", read_whole, "x", "The second", 0, 9)
    fields.read("right", read_whole, "1", "The right", 0, 9)
    fields.read("first", read_whole, "10", "The first", 0, 9)
    with pytest.raises(SeveralBadInputs) as caught:
        fields.check()
    assert [fault.field for fault in caught.value.faults] == ["second", "first"]
    assert str(caught.value).startswith("The second")
    assert "The first 10 cannot be." in str(caught.value)


def test_a_fault_keeps_the_field_it_names_itself() -> None:
    def inner() -> None:
        raise BadInput("No.", field="inner")

    with pytest.raises(BadInput) as caught:
        read_field("outer", inner)
    assert caught.value.field == "inner"


def test_lines_are_read_on_after_a_fault_and_number_their_fields() -> None:
    fields = TypedFields()
    for number, text in enumerate(("1", "x", "y"), 1):
        with fields.line(number):
            read_field("count", read_whole, text, "The count", 0, 9)
    with pytest.raises(SeveralBadInputs) as caught:
        fields.check()
    assert [fault.field for fault in caught.value.faults] == ["count_2", "count_3"]
