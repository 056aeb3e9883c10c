"""The first half of a unit's bad life in the real program: a torn lead, the wrong fan, a swapped drive.

Worked out by hand, in EUR:
                              first              second
  paid                        100.00              60.00
  wrong fan, 12 and 3          15.00                 –
  refunded by its supplier    -12.00                 –
  right fan, 14 and 3          17.00                 –
  drive out                    -8.00             -20.00
  drive in                     20.00               8.00
  cost so far                 132.00              48.00
The slip cost the right fan, 17.00; the supplier was paid 32.00, gave back 12.00 and owes nothing.
"""

from __future__ import annotations

from pathlib import Path

from tests.pty.at_the_bench import FIRST, SECOND
from tests.pty.mending import Mender
from tests.pty.program import did, environment, make_shop
from tests.pty.terminal import Terminal, screen_environment

SUPPLIER = "Dunmere Supplies"
LEAD, CAUSE = "fan lead torn off its plug", "pulled at the lead, not at the plug"


def test_a_torn_lead_a_wrong_fan_and_a_swapped_drive(tmp_path: Path) -> None:
    data = str(make_shop(tmp_path / "shop.bench"))
    env = environment(tmp_path, BENCH_DATA=data)
    settings = tmp_path / "settings.toml"
    settings.write_text("scanner = false\n", encoding="utf-8")
    screen = screen_environment(tmp_path, BENCH_DATA=data, BENCH_SETTINGS=str(settings))
    with Terminal([], screen, size="120x36") as terminal:
        terminal.wait_for("The bench is empty")
        mender = Mender(terminal, tmp_path)
        mender.take_in_unit("Alder", "Fourteen", "AL-1", "100", FIRST)
        mender.take_in_unit("Alder", "Fourteen", "AL-2", "60", SECOND)
        mender.scan(FIRST)
        mender.note_fault(FIRST, LEAD)
        mender.sheet("f", LEAD)
        mender.say_more("f1", "our own slip", CAUSE)
        mender.home()
        mender.sheet("z", f"Orders for {FIRST}")
        mender.order("fan", "soak test", SUPPLIER, "12", "3")
        mender.arrived("fan", "drawer 2")
        mender.wrong_and_sent_back("fan", "its lead is on the other side", "12")
        mender.refunded("fan", "12")
        mender.another("fan", "14", "3")
        terminal.wait_for("17.00 EUR")
        mender.cursor_to("17.00 EUR")
        mender.arrived("fan", "drawer 2")
        mender.home()
        mender.sheet("p", f"Parts of {FIRST}")
        mender.fit_from_shelf("fan", FIRST)
        mender.home()
        mender.sheet("f", LEAD)
        mender.give_part_to_fault("f1", "fan")
        mender.home()
        for tag, size, serial in ((SECOND, "512", "NV-B"), (FIRST, "256", "NV-A")):
            mender.scan(tag)
            mender.sheet("d", f"Drives of {tag}", "No drive recorded")
            mender.add_drive("Invented", f"NV-{size}", serial, "NVMe drive", size)
            mender.home()
        mender.sheet("p", f"Parts of {FIRST}")
        mender.swap_drives(SECOND, ("8", "NV-A"), ("20", "NV-B"))
        terminal.wait_for("132.00 EUR", "48.00 EUR")
        mender.home()
        terminal.send("q")
        assert terminal.wait_end() == 0

    cost_so_far = [did(env, "money", tag, "--json").json()["cost_so_far_minor"] for tag in (FIRST, SECOND)]
    assert cost_so_far == [13200, 4800]
    fault = did(env, "fault", "f1", "--json").json()
    assert (fault["fault"]["symptom"], fault["fault"]["origin"]) == (LEAD, "ours")
    assert (fault["fault"]["cause"], fault["cost"]["parts_minor"]) == (CAUSE, 1700)
    (supplier,) = did(env, "suppliers", "--json").json()["lines"]
    assert (supplier["spent_minor"], supplier["refunded_minor"], supplier["owed_minor"]) == (3200, 1200, 0)
    assert (supplier["orders"], supplier["faulty"]) == (2, 1)
