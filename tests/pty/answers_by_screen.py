"""What a file must answer at the dashboard after one unit's bad life; sums are by hand."""

from __future__ import annotations

from tests.pty.at_the_bench import ENTER, FIRST, SECOND
from tests.pty.bad_life import BREAKER, CAUSE, LEAD, SHORTED, SHUTDOWN, SUPPLIER
from tests.pty.table_on_screen import line_reads, row_reads
from tests.pty.trading import MONTHS, REGISTER, Trader


def asked_by_screen(person: Trader) -> None:
    """The questions at a dashboard that was opened afresh: no message covers what it tells."""
    person.terminal.wait_for(SECOND)
    what_the_faults_cost(person)
    how_the_suppliers_delivered(person)
    what_the_model_taught(person)
    what_month_and_register_say(person)


def what_the_faults_cost(person: Trader) -> None:
    """Who broke what, what it cost, what was diagnosed and how long it ran."""
    terminal = person.terminal
    person.sheet("1", "Faults")
    terminal.send("a")
    terminal.wait_for(LEAD, SHUTDOWN, "our own slip", "none open")
    for way in ("by model", "by whose"):
        terminal.send("v")
        terminal.wait_for(f"What faults cost, {way}")
    line_reads(terminal, "our own slip 1 0")
    costs = ("Hands-on", "Parts", "Consumables", "Returns cost", "Total")
    for row in (("0.3 h", "20.00", "0.00", "0.00", "30.00"), ("0 h", "50.00", "0.00", "0.00", "50.00")):
        row_reads(terminal, dict(zip(costs, row, strict=True)))
    person.cursor_to("our own slip")
    terminal.send(ENTER)
    terminal.wait_for(f"Faults and tests of {FIRST}", "none open", CAUSE)
    line_reads(terminal, "Soak test failed 42 min Hottest 98.0 °C")
    line_reads(terminal, "Soak test passed 3 h 00 Hottest 81.0 °C")
    person.cursor_to("f2")
    terminal.wait_for(SHORTED)
    person.back("What faults cost")
    person.home()


def how_the_suppliers_delivered(person: Trader) -> None:
    """Whether they repaid."""
    person.sheet("q", SUPPLIER, BREAKER)
    names = ("Supplier", "Orders", "Late", "Wrong", "Spent", "Refunded", "Owed")
    for row in (
        (SUPPLIER, "2", "0", "1", "32.00", "12.00", "0.00"),
        (BREAKER, "1", "0", "0", "50.00", "0.00", "0.00"),
    ):
        row_reads(person.terminal, dict(zip(names, row, strict=True)))
    person.home()


def what_the_model_taught(person: Trader) -> None:
    """How the next unit of this model should be treated: asked of the one that is still here."""
    person.scan(SECOND)
    person.sheet("u", "Known faults", SHORTED[:15], CAUSE[:12])
    person.terminal.wait_for("1 sold, 1 of them came back", "soak test 1 of 1", "20 min", "50.00", "17.00")
    person.home()


def what_month_and_register_say(person: Trader) -> None:
    terminal = person.terminal
    terminal.send(MONTHS)
    terminal.wait_for("1 sold, 225.00 EUR", "refunds", "margin, before labour")
    shown = person.figures()
    assert (shown["margin, before labour"], shown["parts in less parts out"]) == (7500, -7900)
    person.home()
    terminal.send(REGISTER)
    terminal.wait_for("bought 160.00 EUR, sold 580.00 EUR", "for 300.00 EUR", "refunded.")
    person.cursor_to("280.00")
    terminal.wait_for("to B. Buyer", "for 280.00 EUR", "margin 180.00 EUR")
    person.cursor_to("300.00")
    terminal.wait_for("to A. Buyer", "for 300.00 EUR")
    person.home()
