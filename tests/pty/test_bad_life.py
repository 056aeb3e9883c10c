"""One unit's bad life in the real program: a torn lead, a wrong fan, a failed soak, a return.

Worked out by hand, in EUR; time is 30.00 an hour, no margin tax, no fees:
                              first              second
  paid                        100.00              60.00
  wrong fan, 12 and 3          15.00                 –
  refunded by its supplier    -12.00                 –
  right fan, 14 and 3          17.00                 –
  drive out                    -8.00             -20.00
  drive in                     20.00               8.00
  board, 45 and 5              50.00                 –
  cost so far                 182.00              48.00
  sold, shipping              300.00, -7.00
  refunded, postage          -300.00, -9.00
  sold again, shipping        280.00, -7.00
  brought                     257.00
  margin                       75.00 in 20 min: 225.00 per hour
The slip cost both fans less the refund, 15 - 12 + 17 = 20.00, and 20 min, 10.00; the supplier
was paid 32.00, gave back 12.00 and owes nothing.
"""

from __future__ import annotations

from pathlib import Path

from bench.work.files import open_or_new
from tests.pty.answers_by_command import asked_by_command
from tests.pty.answers_by_screen import asked_by_screen
from tests.pty.at_the_bench import ENTER, FIRST, SECOND, set_up_later, zone_where_it_is_noon
from tests.pty.bad_life import BREAKER, CAUSE, LEAD, MENDED, SHORTED, SHUTDOWN, SUPPLIER
from tests.pty.mending import Mender
from tests.pty.program import environment
from tests.pty.terminal import Terminal, screen_environment
from tests.pty.trading import REGISTER


def test_a_bad_life_ends_in_answers(tmp_path: Path) -> None:
    data = str(tmp_path / "shop.bench")
    open_or_new(tmp_path / "shop.bench", person="Ada", zone=zone_where_it_is_noon()).close()
    env = environment(tmp_path, BENCH_DATA=data)
    settings = tmp_path / "settings.toml"
    settings.write_text("scanner = false\n", encoding="utf-8")
    screen = screen_environment(tmp_path, BENCH_DATA=data, BENCH_SETTINGS=str(settings))
    with Terminal([], screen, size="120x36") as terminal:
        set_up_later(terminal)
        mender = Mender(terminal, tmp_path)
        mender.set_rate("30.00")
        lead_torn_and_fan_renewed(mender)
        drives_swapped(mender)
        soak_fails_and_board_cures_it(mender)
        sold_returned_and_sold_again(mender)
        terminal.send("q")
        assert terminal.wait_end() == 0

    with Terminal([], screen, size="120x36") as terminal:
        asked_by_screen(Mender(terminal, tmp_path))
        terminal.send("q")
        assert terminal.wait_end() == 0
    asked_by_command(env)


def lead_torn_and_fan_renewed(mender: Mender) -> None:
    mender.take_in_unit("Alder", "Fourteen", "AL-1", "100", FIRST)
    mender.take_in_unit("Alder", "Fourteen", "AL-2", "60", SECOND)
    mender.scan(FIRST)
    mender.note_fault(FIRST, LEAD)
    mender.sheet_of(FIRST, "f", LEAD)
    mender.say_more("f1", "our own slip", CAUSE)
    mender.home()
    mender.sheet_of(FIRST, "z", "Orders for")
    mender.order("fan", "f1", "soak test", SUPPLIER, "12", "3")
    mender.arrived("fan", "drawer 2")
    mender.wrong_and_sent_back("fan", "its lead is on the other side", "12")
    mender.refunded("fan", "12")
    mender.another("fan", "14", "3")
    mender.arrived("fan", "drawer 2")
    mender.home()
    part_fitted(mender, "fan")


def part_fitted(mender: Mender, part: str) -> None:
    """From the shelf; it belongs to the fault that it was ordered for."""
    mender.sheet_of(FIRST, "p", "Parts of")
    mender.fit_from_shelf(part, FIRST)
    mender.home()


def drives_swapped(mender: Mender) -> None:
    for tag, size, serial in ((SECOND, "512", "NV-B"), (FIRST, "256", "NV-A")):
        mender.sheet_of(tag, "d", "Drives of", "No drive recorded")
        mender.add_drive("Invented", f"NV-{size}", serial, "NVMe drive", size)
        mender.home()
    mender.sheet_of(FIRST, "p", "Parts of")
    mender.swap_drives(SECOND, ("8", "NV-A"), ("20", "NV-B"))
    mender.terminal.wait_for("132.00", "48.00")
    mender.home()


def soak_fails_and_board_cures_it(mender: Mender) -> None:
    mender.scan(FIRST)
    mender.unit()
    mender.cursor_to("look over")
    mender.add_time("5:00", "+20", "20 min")
    mender.done("look over")
    mender.soak(FIRST, "failed", "42", "98", symptom=SHUTDOWN)
    mender.home()
    mender.sheet_of(FIRST, "f", LEAD, SHUTDOWN)
    mender.give_task("f1", "look over")
    mender.say_more("f2", "was there before", SHORTED)
    mender.home()
    mender.sheet_of(FIRST, "z", "Orders for")
    mender.order("board", "f2", "soak test", BREAKER, "45", "5")
    mender.arrived("board", "drawer 2")
    mender.home()
    part_fitted(mender, "board")
    mender.unit()
    mender.soak(FIRST, "passed", "180", "81", cures="f2")
    mender.home()


def sold_returned_and_sold_again(mender: Mender) -> None:
    mender.sheet_of(FIRST, "f", LEAD, SHUTDOWN)
    mender.cured("f1", MENDED)
    mender.home()
    wiped_and_sold(mender, "300", "A. Buyer", skipped="nothing to clean")
    mender.terminal.send(REGISTER)
    mender.terminal.wait_for("Bought from and sold to", FIRST)
    mender.cursor_to(FIRST)
    mender.terminal.send(ENTER)
    mender.terminal.wait_for("Hands-on", "sold, since")
    mender.back_for_good(FIRST, "lid cracked at a corner", "300", "9")
    mender.soak(FIRST, "passed", "60", "80")  # a unit that came back is tested again before it is sold
    mender.back("Bought from and sold to")
    mender.home()
    wiped_and_sold(mender, "280", "B. Buyer")


def wiped_and_sold(mender: Mender, price: str, buyer: str, skipped: str = "") -> None:
    """From the first screen and back to it."""
    mender.sheet_of(FIRST, "d", "Drives of", "NV-B")
    mender.wipe("Invented NV-512", "purge", "block erase", "read back in full")
    mender.home()
    mender.sheet_of(FIRST, "m", "Money of", "break-even price")
    mender.sell_to(FIRST, price, "7", buyer, skipped=skipped)
    mender.keep_screen(f"sold for {price}")
    mender.home()
