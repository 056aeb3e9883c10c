"""A person who buys, measures, wipes, grades, sells and takes back at the dashboard."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

from tests.pty.at_the_bench import DOWN, ENTER, ESCAPE, FIRST, SAVE, TAB, UP, Bench, stands_at
from tests.pty.list_cursor import cursor_to, under_cursor

BUYING, LOTS, REGISTER, MONTHS = "\x1bOR", "\x1bOS", "\x1b[15~", "\x1b[17~"  # F3 to F6
ONE_MORE, KILL_LINE = "\x1bOQ", "\x15"  # F2, Ctrl+U
STAGES = (
    *("received", "inspected", "opened", "cleaned", "refitted"),
    *("closed", "tested", "graded", "listed", "sold"),
)
A_STOP = re.compile(r"Stop +[0-9]{4}-[0-9]{2}")
A_LINE = re.compile(r"^│[▌ ](\S.*?)\s{2,}(-?[0-9]+\.[0-9]{2})(?= )", re.MULTILINE)


class LotLine(NamedTuple):
    """A unit of a lot as it is typed."""

    maker: str
    model: str
    serial: str
    expected: str
    route: str


class Trader(Bench):
    """Each method begins and ends on the screen that its name speaks of, else on the first one."""

    def fill(self, *typed: str) -> None:
        """Type into one field after the other, from the one with the focus; an empty text leaves one be."""
        self.terminal.send(TAB.join(typed))
        self.terminal.wait_for(*typed)

    def replace(self, text: str, hint: str) -> None:
        """Type over what stands in the field that has the focus; `hint` shows in it while it is empty."""
        self.terminal.send(KILL_LINE)
        self.terminal.wait_for(hint)
        self.fill(text)

    def save(self, heading: str) -> None:
        """Send the dialog with this heading."""
        self.terminal.send(SAVE)
        self.terminal.wait_gone(heading)

    def sheet(self, letter: str, *shown: str) -> None:
        """Open one of the sheets behind "more"."""
        self.terminal.send("f")
        self.terminal.wait_for("What next", "Trading settings")
        self.terminal.send(letter)
        self.terminal.wait_gone("What next")
        self.terminal.wait_for(*shown)

    def back(self, *shown: str) -> None:
        """Leave the screen for the one that shows this."""
        self.terminal.send(ESCAPE)
        self.terminal.wait_for(*shown)

    def home(self) -> None:
        """Back to the first screen."""
        self.back("Enter open  n new unit")  # to the left of what a message may cover

    def cursor_to(self, words: str) -> None:
        """Up or down the list that has the focus, to the line with these words."""
        cursor_to(self.terminal, words)

    # Settings

    def set_rate(self, rate: str) -> None:
        self.terminal.send(",")
        self.terminal.wait_for("Labour per hour", "0.00 EUR")
        self.terminal.send("e")
        self.terminal.wait_until(lambda text: text.count("0.00 EUR") == 2, "the rate in the form")
        self.terminal.send(3 * TAB)
        self.replace(rate, hint="empty: nothing")
        self.save("Ask after times")
        self.terminal.wait_for(f"{rate} EUR")
        self.home()

    def set_trade(self, *, reserve: str, margin: str) -> None:
        """Margin tax on; the screen of the trading settings stays open."""
        self.sheet("t", "Trading settings", "over the counter")
        self.terminal.send("e")
        self.terminal.wait_until(lambda text: text.count("365") == 2, "the settings in the form")
        self.terminal.send(" ")
        self.terminal.wait_for("[✓] calculate it")
        self.terminal.send(3 * TAB)
        self.replace(reserve, hint="of the expected price")
        self.terminal.send(TAB)
        self.replace(margin, hint="on each unit")
        self.save("Keep names years")

    def add_channel(self, name: str, share: str, fixed: str) -> None:
        """From the screen of the trading settings."""
        self.terminal.send("n")
        self.terminal.wait_for("New channel")
        self.fill(name, share, fixed)
        self.save("New channel")
        self.terminal.wait_for(name)

    # Buying

    def look_at(self, line: LotLine, *, channel: str, parts: str, worth: str) -> None:
        """Calculate the most to pay of a unit, see it while typing, and keep the offer: on buying."""
        self.terminal.send("n")
        self.terminal.wait_for("Look at a unit", "full refurbish", "over the counter")
        self.fill(line.model, line.maker, line.expected, "")
        self.choose(line.route, opened="donor strip", then="Channel")
        self.choose(channel, opened="12.5 % and 0.35 EUR", then="Parts to buy")
        self.fill(parts, "", "", "", "", "starts")
        self.terminal.wait_until(
            lambda text: any("most to pay" in one and worth in one for one in text.splitlines()),
            f"the most to pay, {worth}",
        )

    def leave_offer(self, reason: str) -> None:
        self.terminal.send("x")
        self.terminal.wait_for("Decline ")
        self.fill(reason)
        self.terminal.send(ENTER)
        self.terminal.wait_gone("Decline ")
        self.terminal.wait_for("No open offer")

    def buy_lot(self, name: str, price: str, seller: str, lines: Sequence[LotLine]) -> None:
        """From buying; the lots' screen is open afterwards."""
        self.terminal.send("l")
        self.terminal.wait_for("Buy a lot", "Serial", "Donor")
        self.fill(name, price, "", "", "", "R 17", seller, "School Lane 1", "", "", "")
        self.terminal.send(" ")
        self.terminal.wait_for("[✓] a business")
        self.terminal.send(2 * TAB)
        for number, line in enumerate(lines, start=1):
            if number > 2:
                self.terminal.wait_focus(ONE_MORE, "Maker")
            self.fill(line.maker, line.model, line.serial, line.expected, "")
            self.choose(line.route, opened="donor strip", then="Tag")
            if number == 1:
                self.terminal.send(2 * TAB)
        self.save("Buy a lot")
        self.terminal.wait_for("Its units", name, *(line.model for line in lines))

    def keep_for_parts(self, tag: str, worth: str) -> None:
        """On the lots' screen: a unit of the lot shown turns out a donor, and its lot is shared again."""
        self.terminal.send(ENTER)
        self.terminal.wait_until(lambda _: FIRST in self._cursor_line(), "the cursor among the units")
        self.cursor_to(tag)
        self.terminal.send("d")
        self.terminal.wait_for(f"Keep {tag} for its parts", "[✓] share its lot again")
        self.fill(worth)
        self.save("Keep ")

    # Work

    def open_up(self, tag: str, screws: str) -> None:
        """To inspected, and the opening checklist."""
        self.move_on_marking_done("inspected")
        self.wait_at("inspected", tag)
        self.tick_opening_list(screws)

    def go_to(self, stage: str, here: str) -> None:
        """To any stage, marking done what is left behind; waits for what comes of it no further."""
        self.terminal.send("g")
        self.terminal.wait_for("Move to which stage?", f"► {here}")
        self.terminal.send((STAGES.index(stage) - STAGES.index(here)) * DOWN + ENTER)
        self.terminal.wait_for("unfinished task")
        self.terminal.send("d")

    def finish_taking(self, task: str, first: str, second: str, amount: str, left: str) -> None:
        """Finish a task with another amount of the first thing it takes."""
        self.terminal.send("d")
        self.terminal.wait_for(f'Finish "{task}', f"{first}  ", f"{second}  ")
        self._wait_focus_differs(f"{first}  ", f"{second}  ")
        self.terminal.send(amount)
        self.terminal.wait_for(left)
        self.terminal.send(SAVE)
        self.terminal.wait_gone(f'Finish "{task}', "►")

    def wait_at(self, stage: str, tag: str) -> None:
        """Wait until the queue shows the unit at this stage."""
        self.terminal.wait_until(lambda text: stands_at(text, stage, tag), f"{tag} at {stage}")

    def close_up(self, tag: str, here: str, screws: str) -> None:
        """From a cover-off stage to closed, through the list that comes before it."""
        self.go_to("closed", here)
        self.terminal.wait_for("Closing checklist of", f"counted back in: {screws}", "[ ] 4")
        self.tick_lines()
        self.terminal.wait_gone("Closing checklist of")
        self.wait_at("closed", tag)

    def add_time(self, start: str, stop: str, sum_shown: str) -> None:
        """On the unit's screen, to the task under the cursor."""
        self.terminal.send("a")
        self.terminal.wait_for("Add time to")
        self.fill(start, stop, "written on paper")
        self.save("Add time to")
        self.terminal.wait_for(sum_shown)

    def correct_time(self, task: str, start: str, stop: str) -> None:
        """On the money's screen: the entry of this task among the rows behind the hands-on time."""
        self.cursor_to("cost so far")
        self.terminal.wait_for("No rows behind it.")  # what comes next is behind the hands-on time
        self.cursor_to("hands-on time")
        self.terminal.wait_for(task)
        self.terminal.send(ENTER)
        self.terminal.wait_until(lambda _: "hands-on" not in self._cursor_line(), "the rows behind it")
        self.cursor_to(task)
        self.terminal.send(ENTER)
        self.terminal.wait_until(lambda text: bool(A_STOP.search(text)), "the entry's times in the form")
        self.terminal.wait_focus(UP, "Start")  # a correction begins with the stop
        self.replace(start, hint="empty: as it is")
        self.terminal.send(TAB)
        self.replace(stop, hint="14:30, or +90")
        self.fill("", "started late")
        self.save("Correct a time entry")

    # Condition

    def read_battery(self, *figures: str) -> None:
        """On the condition's screen: design, full charge, cycles."""
        self.terminal.send("n")
        self.terminal.wait_for("Battery of", "Design capacity")
        self._wait_focus_differs("Design capacity", "Full charge, from")
        self.fill(*figures)
        self.save("Battery of")

    def add_drive(self, *typed: str) -> None:
        """On the screen of the drives: maker, model, serial number, media type, size."""
        self.terminal.send("n")
        self.terminal.wait_for("New drive")
        self.fill(*typed)
        self.save("New drive")
        self.terminal.wait_for(typed[2], "no wipe record")

    def wipe(self, drive: str, method: str, technique: str, how: str) -> None:
        """On the screen of the drives: wiped, and verified as passed."""
        self.terminal.send("w")
        self.terminal.wait_for(f"Wiped {drive}", "Technique")
        self.choose(method, opened="destroy", then="Technique")
        self.fill(technique, "a tool", "2.1")
        self.save("Technique ")
        self.terminal.wait_for("not verified")
        self.terminal.send("v")
        self.terminal.wait_for(f"Verify: {drive}")
        self.fill(how, "")
        self.choose("passed", opened="failed", then="When  ")
        self.save("Verify: ")
        self.terminal.wait_for("every drive wiped", "passed")

    def grade(self, function: str, looks: str, sentence: str) -> None:
        """On the screen of the grade: the part under the cursor."""
        self.terminal.send(ENTER)
        self.terminal.wait_for("Grade: ", "was not tested")
        self.choose(function, opened="does not work", then="Looks")
        self.choose(looks, opened="clear wear", then="In a sentence")
        self.fill(sentence)
        self.save("Grade: ")
        self.terminal.wait_for(sentence)

    def fit(self, *typed: str) -> None:
        """On the screen of the parts: one that was bought, with its cost second."""
        self.terminal.send("n")
        self.terminal.wait_for("Part bought for", "no drive from")
        self.fill(*typed)
        self.save("Part bought for")
        self.terminal.wait_for(f"{typed[1]} EUR")

    def take_in(self, donor: str, part: str, worth: str, cost: str) -> None:
        """On the screen of the parts: one out of a donor, at the cost that its worth suggests."""
        self.terminal.send("t")
        self.terminal.wait_for("Part into", "suggests its share")
        self.fill(donor, part, worth)
        self.terminal.wait_for(f"Its share of the cost left: {cost} EUR")
        self.save("Part into")
        self.terminal.wait_for(f"{cost} EUR")

    # Money

    def sell(self, tag: str, price: str, channel: str, shipping: str, buyer: str) -> None:
        """On the money's screen, marking done what is left to do."""
        self.terminal.send("s")
        self.terminal.wait_for(f"Sell {tag}", "Break-even", "over the counter")
        self.fill(price, "")
        self.choose(channel, opened="12.5 % and 0.35 EUR", then="Shipping")
        self.fill(shipping, "", "", "", buyer, "Buyer's Street 2")
        self.terminal.send(SAVE)
        self.terminal.wait_for("unfinished task")
        self.terminal.send("d")
        self.test_passed("soak test", tag)
        self.terminal.wait_gone("unfinished task", f"Sell {tag}")
        self.terminal.wait_for("margin, before labour", "margin per hour")

    def test_passed(self, task: str, tag: str) -> None:
        """A test in the way of what is marked done: it has passed."""
        self.terminal.wait_for(f'Finish "{task}" on {tag}', "Ran for", "Shows cured")
        self.choose("passed", opened="broken off", then="Ran for")
        self.terminal.send(SAVE)
        self.terminal.wait_gone(f'Finish "{task}')

    def take_back_in(self, tag: str, why: str, refund: str) -> None:
        """On the unit's screen: it came back from its buyer, to the first stage."""
        self.sheet("k", f"{tag} came back", "Sold ", "received")
        self.fill(why, refund, "", "0")
        self.save(f"{tag} came back")
        self.terminal.wait_for("received, since")

    def figures(self) -> dict[str, int]:
        """The lines of the sum in the left panel: words to the amount shown, in cents."""
        return {words: int(amount.replace(".", "")) for words, amount in A_LINE.findall(self.terminal.text())}

    def _cursor_line(self) -> str:
        found = under_cursor(self.terminal.text())
        return found.words if found else ""

    def _wait_focus_differs(self, label: str, other: str) -> None:
        """Wait until the focus is at the one field and not at the other."""
        looks = self.terminal.looks_of
        self.terminal.wait_until(lambda _: looks(label) != looks(other), f"the focus at {label}")
