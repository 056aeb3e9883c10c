"""Listing and hand-over note: from the records alone, and a gap is called a gap."""

from __future__ import annotations

import json
from datetime import date

import pytest

from bench.desk import Desk
from bench.domain.grading import NO_CONFORMITY
from bench.errors import NotFound, WipeFirst
from bench.reports.hand_over import ONLY_THE_UNIT, hand_over_html, hand_over_json, hand_over_text
from bench.reports.listing import NO_FAULT, NOTHING_READ, listing_json, listing_text
from bench.views.grades import read_scale
from bench.views.hand_over import read_hand_over
from bench.views.listing import read_listing
from bench.views.unit import read_unit
from bench.work.comebacks import correct_return, take_return
from bench.work.drives import add_drive
from bench.work.grades import set_grade
from bench.work.listing import set_task_public
from bench.work.parties import erase_party
from bench.work.parts import fit_part
from bench.work.readings import add_reading
from bench.work.safety import report_cell
from bench.work.timers import finish_task, skip_task
from bench.work.units import add_unit
from bench.work.waivers import list_without
from bench.work.wipes import record_wipe, verify_wipe
from tests.clocks import HandSetClock
from tests.reports.reading import is_plain
from tests.work.looked_into import looked_into
from tests.work.sale_steps import part, sell, stage, stocked, trading

HOSTILE = "=SUM(1)</td><script>alert(1)</script> [bold]\u202e"


def text_of(desk: Desk, unit_id: int) -> str:
    return listing_text(read_listing(desk, unit_id))


def under_heading(text: str, heading: str) -> list[str]:
    """The lines under a heading of the listing."""
    parts = [part.split("\n") for part in text.rstrip("\n").split("\n\n")]
    return next((part[1:] for part in parts if part[0] == heading), [])


def reading(desk: Desk, unit_id: int, moment: str, subject: str, **fields: str) -> None:
    add_reading(desk, unit_id, moment=moment, subject=subject, fields=fields)


@pytest.fixture
def known(desk: Desk) -> int:
    """A unit with tasks, grades, readings, parts and drives, not all of them complete."""
    unit_id = add_unit(
        desk, maker="Acorn", model="Model 5", serial="SN-5", route_id=1, price_text="100"
    ).unit_id
    tasks = read_unit(desk, unit_id).tasks
    finish_task(desk, tasks[0].task_id)
    skip_task(desk, tasks[1].task_id, "no need")
    for task in tasks:
        set_task_public(desk, task.task_id, public=True)
    steps = {step.name: step.step_id for step in read_scale(desk)}
    set_grade(
        desk, unit_id, "lid", function_step_id=steps["all works"], looks_step_id=steps["no visible wear"]
    )
    set_grade(
        desk,
        unit_id,
        "keyboard",
        function_step_id=steps["works, with limits"],
        looks_step_id=steps["light wear"],
        sentence="Key E needs a firm press.",
    )
    set_grade(desk, unit_id, "ports", sentence="Dust in it.", tested=False)
    reading(desk, unit_id, "before", "battery", design="57", full="30", cycles="412")
    reading(desk, unit_id, "after", "battery", design="57", full="40", cycles="3")
    reading(desk, unit_id, "before", "screen", dead_pixels="2")
    reading(desk, unit_id, "after", "memory", passes="2", errors="0")
    fit_part(desk, unit_id, name="keyboard", cost_text="20")
    donor = stocked(desk)
    part(desk, "lid", 500, to=unit_id, out_of=donor)
    assert under_heading(text_of(desk, donor), "Work done") == ["- taken out: lid"]
    drive_id = add_drive(desk, unit_id, maker="Oak", model="NV", serial="D-1", size_text="512 GB")
    wipe = record_wipe(desk, drive_id, method="purge", technique="NVMe sanitize, block erase").wipe_id
    verify_wipe(desk, wipe, result="passed", verification="read back")
    add_drive(desk, unit_id, maker="Oak", model="SATA", serial="D-2", size_text="1 TB")
    return unit_id


def test_every_record_is_told_in_its_place(desk: Desk, known: int) -> None:
    text = text_of(desk, known)
    tasks = read_unit(desk, known).tasks
    assert text.startswith("Acorn Model 5\n\nNot graded as a whole.\n")
    assert under_heading(text, "Faults and wear") == [
        "- Keyboard: works, with limits, light wear: Key E needs a firm press.",
        "- Battery: 70.2 % of design: worn",
        "- Screen: 2 dead or stuck pixels",
    ]
    assert under_heading(text, "Parts") == [
        "- Lid: function all works, looks no visible wear",
        "- Keyboard: function works, with limits, looks light wear, Key E needs a firm press.",
    ]
    assert under_heading(text, "Measured") == [
        "- Battery: Design energy 57.00 Wh; Full charge 40.00 Wh (before 30.00 Wh); Cycles 3 (before 412)",
        "- Memory test: Full passes 2; Errors 0",
        "- Screen: Dead or stuck pixels 2 (before the work)",
    ]
    assert under_heading(text, "Work done") == [
        f"- {tasks[0].name}",
        f"- left out: {tasks[1].name}",
    ]
    assert under_heading(text, "Renewed") == [
        "- keyboard, put in 2026-11-25",
        "- lid, used, out of another unit, put in 2026-11-25",
    ]
    assert under_heading(text, "Drives") == [
        "- Oak NV D-1: wiped (purge), verification passed on 2026-11-25",
        "- Oak SATA D-2: no wipe record; no wipe that passed is on record",
    ]
    not_tested = under_heading(text, "Not tested")
    assert "- Drive: not measured" in not_tested
    assert "- Keyboard: not measured" in not_tested
    assert "- Ports: not tested" in not_tested
    assert "- Screen: not graded" in not_tested
    assert "- Soak test: none that passed is on record" in not_tested
    assert not any("Memory" in line or "Lid" in line for line in not_tested)
    assert under_heading(text, "Still to be done when this was written") == [
        f"- {name}" for name in dict.fromkeys(task.name for task in tasks[2:])
    ]
    assert text.endswith(f"{NO_CONFORMITY}\n")


def test_a_bare_unit_claims_nothing(desk: Desk) -> None:
    text = text_of(desk, stocked(desk))
    assert text.startswith("Maker Model\n")
    assert NOTHING_READ in text
    assert NO_FAULT in text
    assert len(under_heading(text, "Not tested")) == 8 + 7  # every subject and every part of the scale
    assert not any(
        heading in text for heading in ("Work done", "Renewed", "Drives", "Parts\n", NO_CONFORMITY)
    )


def test_a_whole_units_grade_leads(desk: Desk) -> None:
    unit_id = stocked(desk)
    steps = {step.name: step.step_id for step in read_scale(desk)}
    set_grade(desk, unit_id, "whole", function_step_id=steps["all works"], sentence="A tidy one.")
    assert "Grade: function all works. A tidy one." in text_of(desk, unit_id)


def test_a_bad_cell_leads_the_faults(desk: Desk) -> None:
    unit_id = stocked(desk)
    report_cell(desk, unit_id, "swollen")
    assert under_heading(text_of(desk, unit_id), "Faults and wear")[0].startswith("- Battery: a swollen cell")


def test_the_json_holds_the_text_and_its_records(desk: Desk, known: int) -> None:
    listing = read_listing(desk, known)
    facts = json.loads(listing_json(listing))
    assert facts["text"] == listing_text(listing)
    assert facts["faults"] == list(listing.faults)
    assert facts["to_do"] == list(listing.to_do)
    assert facts["measured"][0]["before_work"] is False
    assert facts["grades"][0]["label"] == "Lid"


def test_text_from_people_is_literal(desk: Desk) -> None:
    unit_id = looked_into(desk, add_unit(desk, maker="", model=HOSTILE.replace("\u202e", "")).unit_id)
    fit_part(desk, unit_id, name="[red]</table>", cost_text="1")
    sell(desk, unit_id, buyer_name="<b>Bo</b>", note="<i>charger</i>\nbag")
    assert "<script>" not in hand_over_html(read_hand_over(desk, unit_id))
    assert "&lt;b&gt;Bo&lt;/b&gt;" in hand_over_html(read_hand_over(desk, unit_id))
    is_plain(hand_over_text(read_hand_over(desk, unit_id)))
    assert "[red]</table>" in text_of(desk, unit_id)


def test_an_unwiped_drive_stops_a_sale(desk: Desk) -> None:
    unit_id = stocked(desk)
    add_drive(desk, unit_id, maker="Oak", model="NV", serial="D-1", size_text="512 GB")
    with pytest.raises(WipeFirst):
        sell(desk, unit_id)
    list_without(desk, unit_id, "a new drive, never used")
    sell(desk, unit_id)
    assert "no wipe record" in hand_over_text(read_hand_over(desk, unit_id))


def test_the_note_says_what_goes_along_and_until_when(desk: Desk, known: int) -> None:
    trading(desk)
    list_without(desk, known, "new")
    typed = {"note": "charger 65 W", "invoice": "S-1", "open_tasks": "skip", "reason": "sold as it is"}
    sell(desk, known, "250", **typed)
    note = read_hand_over(desk, known)
    assert (note.sold_on, note.warranty_until) == (date(2026, 11, 25), date(2027, 11, 25))
    assert note.parts == ("keyboard", "lid")
    assert [drive.wiped for drive in note.drives] == [True, False]
    assert [pack.uwh for pack in note.packs] == [57_000_000]
    text = hand_over_text(note)
    is_plain(text)
    for words in ("SN-5", "250.00 EUR", "S-1", "the unit; charger 65 W", "Quendolin Buyer, 7 Nowhere Lane"):
        assert words in text
    assert "Warranty of the shop until 2027-11-25" in text
    flat = " ".join(text.split())
    for line in note.shipping:
        assert line in flat
    page = hand_over_html(note)
    assert page.count("<li>") == 2 + 2 + len(note.shipping)
    facts = json.loads(hand_over_json(note))
    assert facts["shipping"] == list(note.shipping)
    assert facts["packs"][0]["uwh"] == 57_000_000


def test_a_replaced_packs_figures_do_not_mix_with_the_old_ones(desk: Desk) -> None:
    unit_id = stocked(desk)
    reading(desk, unit_id, "before", "battery", design="120", full="30")
    sell(desk, unit_id)
    note = read_hand_over(desk, unit_id)
    assert (note.packs[0].uwh, note.packs[0].before_work) == (120_000_000, True)
    reading(desk, unit_id, "after", "battery", cycles="3")
    assert read_hand_over(desk, unit_id).packs[0].uwh is None


def test_without_readings_warranty_or_buyer_the_note_says_so(desk: Desk) -> None:
    unit_id = stocked(desk)
    sell(desk, unit_id, buyer_name="", buyer_address="", buyer_contact="", warranty_days_text="0")
    text = hand_over_text(read_hand_over(desk, unit_id))
    assert ONLY_THE_UNIT in text
    assert "The shop gives no warranty of its own." in text
    assert "Battery: watt-hours not known" in text
    assert "Sold to" not in text


def test_an_erased_buyer_reads_erased(desk: Desk) -> None:
    unit_id = stocked(desk)
    sell(desk, unit_id, note="charger")
    erase_party(desk, 1, "asked for", early=True)
    assert "Sold to     erased\n" in hand_over_text(read_hand_over(desk, unit_id))


def test_only_a_standing_sale_has_a_note(desk: Desk, clock: HandSetClock) -> None:
    unit_id = stocked(desk)
    with pytest.raises(NotFound, match="not sold"):
        read_hand_over(desk, unit_id)
    sell(desk, unit_id)
    take_return(desk, unit_id, reason="key", refund_text="", stage_id=stage(desk, "inspected"))
    assert read_hand_over(desk, unit_id).price_minor == 70_000  # under repair it is the buyer's still
    correct_return(desk, unit_id, reason="key", refund_text="700")
    with pytest.raises(NotFound, match="not sold"):
        read_hand_over(desk, unit_id)
    for read in (read_hand_over, read_listing):
        with pytest.raises(NotFound):
            read(desk, 99)
