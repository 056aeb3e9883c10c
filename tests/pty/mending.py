"""A person at the dashboard whose unit goes wrong: faults, wrong parts ordered, drives swapped."""

from __future__ import annotations

from tests.pty.at_the_bench import ENTER, SAVE, TAB
from tests.pty.dialog_focus import wait_focus_in
from tests.pty.table_on_screen import line_reads, row_reads
from tests.pty.trading import Trader


class Mender(Trader):
    """Each method begins and ends on the screen that it speaks of."""

    _heading = ""  # of the dialog that is open

    def sheet_of(self, tag: str, letter: str, *shown: str) -> None:
        """From the first screen: one of the sheets behind "more", of this unit."""
        self.scan(tag)
        self.sheet(letter, tag, *shown)

    def opened(self, heading: str, label: str, other: str) -> None:
        """The dialog with this heading is there, and the next key goes to its first field."""
        self._heading = heading
        wait_focus_in(self.terminal, heading, label, other)

    def pick(self, label: str, text: str, then: str) -> None:
        """Once the focus is at this list, open it and take this entry: the focus goes on to `then`."""
        wait_focus_in(self.terminal, self._heading, label, then)
        shown = self._lines_with(text)
        self.terminal.send(ENTER)
        self.terminal.wait_until(lambda _: bool(self._lines_with(text) - shown), f"{text} among the choices")
        self.terminal.send(text + ENTER)
        wait_focus_in(self.terminal, self._heading, then, label)

    def take_in_unit(self, maker: str, model: str, serial: str, price: str, tag: str) -> None:
        """On the first screen, on the route that only cleans."""
        self.terminal.send("n")
        self.opened("New unit", "Maker", "Model")
        self.fill(maker, model, serial, "")
        self.pick("Route", "clean", then="Due")
        self.fill("", price)
        self.save("New unit")
        self.terminal.wait_for(tag, model)

    def note_fault(self, tag: str, symptom: str) -> None:
        """On the first screen: a key and a line."""
        self.terminal.send("i")
        self.terminal.wait_for(f"Fault of {tag}", "What is seen")
        self.fill(symptom)
        self.terminal.send(ENTER)
        self.terminal.wait_gone("What is seen")

    def say_more(self, number: str, whose: str, cause: str) -> None:
        """On the faults' screen: whose the fault is, and its cause."""
        self._open_fault(number)
        self.terminal.send(2 * TAB)
        self.pick("Whose", whose, then="Suspected")
        self.fill("", cause)
        self.save("Shown by")
        row_reads(self.terminal, {"No.": number, "Whose": whose})
        self.terminal.wait_for(cause)

    def cured(self, number: str, done: str) -> None:
        """On the faults' screen: the fault is no more, and what was done."""
        self._open_fault(number)
        self.terminal.send(5 * TAB)
        self.pick("It is", "cured", then="Done, or why")
        self.fill(done)
        self.save("Shown by")
        row_reads(self.terminal, {"No.": number, "State": "cured"})

    def give_task(self, number: str, task: str) -> None:
        """On the faults' screen: a task that belongs to the fault, with all its time."""
        self._open_belongings(number)
        self.pick("Task", task, then="A time alone")
        self.save(f"Belongs to {number}")

    def order(self, part: str, fault: str, task: str, supplier: str, price: str, freight: str) -> None:
        """On a unit's orders: ordered for a fault, with a task that waits for it; the cursor is on it."""
        self.terminal.send("n")
        self.opened("Order a part for", "Part", "Waits for it")
        self.fill(part, "", "", "")
        self.pick("Waits for it", task, then="For the fault")
        self.pick("For the fault", fault, then="Supplier")
        self.fill(supplier, price, freight, "", "+3")
        self.save("Order a part for")
        self.stands(part, "ordered", supplier)

    def arrived(self, part: str, place: str) -> None:
        self.cursor_to("ordered")
        self.terminal.send("a")
        self.opened(f"Arrived: {part}", "Price", "Freight")
        self.fill("", "", "", place)
        self.save(f"Arrived: {part}")
        self.stands(part, "arrived")

    def wrong_and_sent_back(self, part: str, note: str, owed: str) -> None:
        self.cursor_to("arrived")
        self.terminal.send("w")
        self.opened(f"Wrong or broken: {part}", "It is", "Owed back")
        self.pick("It is", "wrong", then="What it is")
        self.fill(note, owed)
        self.save("Wrong or broken")
        self.stands(part, "wrong")
        self.terminal.send("b")
        self.stands(part, "sent back")

    def another(self, part: str, price: str, freight: str) -> None:
        """Another one in the place of the order that was refunded."""
        self.cursor_to("refunded")
        self.terminal.send("o")
        self.opened(f"Order another {part}", "Maker's no.", "Freight")
        self.fill("", "", price, freight, "", "+3")
        self.save(f"Order another {part}")
        self.stands(part, "ordered")

    def refunded(self, part: str, amount: str) -> None:
        self.cursor_to("sent back")
        self.terminal.send("r")
        self.opened(f"Refunded: {part}", "Came back", "Note")
        self.replace(amount, hint="0 for nothing")
        self.save(f"Refunded: {part}")
        self.stands(part, "refunded")
        row_reads(self.terminal, {"What": part, "State": "refunded", "Came back": f"{amount}.00"})

    def stands(self, part: str, state: str, supplier: str = "") -> None:
        """On a unit's orders: the table says so of an order of this part."""
        row_reads(
            self.terminal,
            {"What": part, "State": state, **({"Supplier": supplier} if supplier else {})},
        )

    def fit_from_shelf(self, part: str, tag: str) -> None:
        """On the parts' screen: the only part that lies on the shelf."""
        self.terminal.send("s")
        self.terminal.wait_for("Fit which part from the shelf?", part)
        self.terminal.send(ENTER)
        self.terminal.wait_gone("Fit which part from the shelf?")
        self.terminal.wait_for(f"{part} into {tag}")

    def swap_drives(self, other: str, gives: tuple[str, str], gets: tuple[str, str]) -> None:
        """On the parts' screen: cost and serial number of what goes and of what comes."""
        self.terminal.send("w")
        self.terminal.wait_for("Swap a part of")
        self.fill(other, "drive", *gives, *gets)
        self.save("Swap a part of")
        self.terminal.wait_for("drive swapped")

    def unit(self) -> None:
        """From the first screen to the screen of the unit under the cursor."""
        self.terminal.send(ENTER)
        self.terminal.wait_for("Hands-on", "look over")

    def done(self, task: str) -> None:
        """On the unit's screen: the task under the cursor."""
        self.finish(task)
        self.terminal.wait_for(f"✓  {task}")

    def soak(
        self, tag: str, outcome: str, ran: str, hottest: str, *, symptom: str = "", cures: str = ""
    ) -> None:
        """On the unit's screen: how the soak test ended, after how many minutes, how hot, with what."""
        self.cursor_to("soak test")
        self.terminal.send("d")
        self.opened(f'Finish "soak test" on {tag}', "Outcome", "Shows cured")
        self.pick("Outcome", outcome, then="Ran for")
        self.fill(ran, hottest, "", symptom)
        if cures:
            self.terminal.send(TAB)
            self.pick("Shows cured", cures, then="Note")
        self.save('Finish "soak test')

    def sell_to(self, tag: str, price: str, shipping: str, buyer: str, *, skipped: str) -> None:
        """On the money's screen, over no channel; the tasks left to do, if any, skipped for this reason."""
        self.terminal.send("s")
        self.opened(f"Sell {tag}", "Price", "Shipping")
        self.fill(price, "", shipping, "", "", "", buyer, "Buyer's Street 2")
        line_reads(self.terminal, "Price", price)
        self.terminal.send(SAVE)
        if skipped:
            self.terminal.wait_for("unfinished task")
            self.terminal.send("z")
            self.terminal.wait_for("Skip the tasks")
            self.fill(skipped)
            self.terminal.send(ENTER)
        self.terminal.wait_gone("unfinished task", f"Sell {tag}")
        self.terminal.wait_for("margin, before labour")

    def back_for_good(self, tag: str, why: str, refund: str, postage: str) -> None:
        """On the unit's screen: all of its price is given back, which undoes the sale."""
        self.sheet("k", f"{tag} came back", "Sold ", "received")
        self.fill(why, refund, "", postage)
        self.save(f"{tag} came back")
        self.terminal.wait_for("received, since")

    def _lines_with(self, text: str) -> set[int]:
        return {at for at, line in enumerate(self.terminal.text().splitlines()) if text in line}

    def _open_fault(self, number: str) -> None:
        self.cursor_to(number)
        self.terminal.send(ENTER)
        self.opened(f"Fault {number} of", "What is seen", "Shown by")

    def _open_belongings(self, number: str) -> None:
        self.cursor_to(number)
        self.terminal.send("b")
        self.opened(f"Belongs to {number}", "Task", "Return")
