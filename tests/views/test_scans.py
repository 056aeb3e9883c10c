"""What a scan means: a tag, a unit's or a drive's serial number, a consumable's code, or nothing known."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.domain.labels import part_code
from bench.errors import BadInput
from bench.views.gone_parts import read_gone_parts
from bench.views.labels import part_label
from bench.views.parts import read_parts, read_shelf
from bench.views.scans import CONSUMABLE, DRIVE, PART, UNIT, UNKNOWN, resolve_scan
from bench.views.stock import read_stock
from bench.work.components import scrap_part
from bench.work.consumables import set_code
from bench.work.drives import add_drive
from bench.work.parts import fit_part, take_part
from bench.work.stock import edit_consumable
from bench.work.units import UnitAdded, add_unit

EAN = "4006381333931"


@pytest.fixture
def unit(desk: Desk) -> UnitAdded:
    return add_unit(desk, maker="Maker", model="Model 9", serial="SN-77 x")


def test_a_tag_and_a_serial_number_name_the_unit(desk: Desk, unit: UnitAdded) -> None:
    for text in (unit.tag, "SN-77 x", "sn-77 X", f" {unit.tag} "):
        found = resolve_scan(desk, text)
        assert (found.kind, found.unit_id, found.name) == (UNIT, unit.unit_id, "Maker Model 9")


def test_a_drives_serial_number_names_the_drive(desk: Desk, unit: UnitAdded) -> None:
    drive_id = add_drive(desk, unit.unit_id, model="D", serial="DRV9")
    found = resolve_scan(desk, "DRV9")
    assert (found.kind, found.drive_id, found.unit_id, found.tag) == (
        DRIVE,
        drive_id,
        unit.unit_id,
        unit.tag,
    )


def test_a_parts_label_names_it_wherever_it_is(desk: Desk, unit: UnitAdded) -> None:
    fit_part(desk, unit.unit_id, name="fan", cost_text="9")
    (fan,) = read_parts(desk, unit.unit_id).in_it
    code = part_label(fan).code
    found = resolve_scan(desk, code.lower())
    assert (found.kind, found.unit_id, found.part_id, found.gone) == (PART, unit.unit_id, fan.part_id, False)
    take_part(desk, unit.unit_id, name="fan", cost_text="9")
    (kept,) = read_shelf(desk).lines
    assert kept.component_id == fan.component_id
    found = resolve_scan(desk, code)
    assert (found.kind, found.unit_id, found.part_id, found.gone) == (PART, None, kept.part_id, False)
    scrap_part(desk, kept.component_id, reason="worn")
    found = resolve_scan(desk, code)
    assert (found.part_id, found.gone) == (kept.part_id, True)
    assert read_gone_parts(desk).lines[0].part_id == kept.part_id
    assert resolve_scan(desk, code[:-1] + ("A" if code[-1] != "A" else "B")).kind == UNKNOWN
    assert resolve_scan(desk, part_code(4711)).kind == UNKNOWN


def test_a_code_names_the_consumable(desk: Desk) -> None:
    first, second, *_ = read_stock(desk).lines
    set_code(desk, first.consumable_id, EAN)
    found = resolve_scan(desk, EAN)
    assert (found.kind, found.consumable_id, found.name) == (CONSUMABLE, first.consumable_id, first.name)
    with pytest.raises(BadInput, match="already") as caught:
        set_code(desk, second.consumable_id, EAN)
    assert caught.value.field == "code"
    with pytest.raises(BadInput, match="EAN-13"):
        set_code(desk, second.consumable_id, "4006381333932")


def test_a_form_sets_the_code_too(desk: Desk) -> None:
    line = read_stock(desk).lines[0]
    edit_consumable(
        desk,
        line.consumable_id,
        name=line.name,
        base_unit=line.base_unit,
        pack_text="1",
        lead_days_text="3",
        code="OWN 1",
    )
    assert next(one for one in read_stock(desk).lines if one.name == line.name).code == "OWN 1"
    assert resolve_scan(desk, "own 1").consumable_id == line.consumable_id


def test_what_is_unknown_says_what_was_not_known(desk: Desk, unit: UnitAdded) -> None:
    wrong = unit.tag[:-1] + str((int(unit.tag[-1]) + 1) % 10)
    for text, words, new_serial in (
        (wrong, "does not fit", True),
        (EAN, "No consumable bears the code", False),
        ("XYZ", "is no tag, serial number or code that is known here", True),
        ("[/red] ", "is no tag", True),
    ):
        found = resolve_scan(desk, text)
        assert found.kind == UNKNOWN
        assert words in found.says
        assert found.new_serial is new_serial


def test_a_serial_number_that_several_bear_leads_nowhere(desk: Desk, unit: UnitAdded) -> None:
    other = add_unit(desk, maker="", model="M", serial="SN-77 X", again="another maker's")
    found = resolve_scan(desk, "SN-77 x")
    assert found.kind == UNKNOWN
    assert unit.tag in found.says
    assert other.tag in found.says
    assert not found.new_serial
