"""A person at the dashboard whose unit goes wrong: faults, wrong parts ordered, drives swapped."""

from __future__ import annotations

from tests.pty.at_the_bench import ENTER, TAB
from tests.pty.trading import Trader


class Mender(Trader):
    """Each method begins and ends on the screen that it speaks of."""

    def take_in_unit(self, maker: str, model: str, serial: str, price: str, tag: str) -> None:
        """On the first screen, on the route that only cleans."""
        self.terminal.send("n")
        self.terminal.wait_for("New unit")
        self.fill(maker, model, serial, "")
        self.choose("clean", opened="donor strip", then="Due")
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
        self.cursor_to(number)
        self.terminal.send(ENTER)
        self.terminal.wait_for(f"Fault {number} of", "Shown by")
        self.terminal.send(2 * TAB)
        self.choose(whose, opened="was there before", then="Suspected")
        self.fill("", cause)
        self.save("Shown by")
        self.terminal.wait_for(whose, cause)

    def give_part_to_fault(self, number: str, part: str) -> None:
        """On the faults' screen: a part that belongs to the fault."""
        self.terminal.send("b")
        self.terminal.wait_for(f"Belongs to {number}", "A time alone")
        self.terminal.send(2 * TAB)
        self.choose(part, opened="none", then="Return")
        self.save(f"Belongs to {number}")

    def order(self, part: str, task: str, supplier: str, price: str, freight: str) -> None:
        """On a unit's orders: ordered, with a task that waits for it."""
        self.terminal.send("n")
        self.terminal.wait_for("Order a part for", "Waits for it")
        self.fill(part, "", "", "")
        self.choose(task, opened=task, then="Supplier")
        self.fill(supplier, price, freight, "", "+3")
        self.save("Order a part for")
        self.terminal.wait_for(part, supplier)

    def arrived(self, part: str, place: str) -> None:
        self.terminal.send("a")
        self.terminal.wait_for(f"Arrived: {part}", "Serial number", "Freight")
        self.fill("", "", "", place)
        self.save(f"Arrived: {part}")
        self.terminal.wait_for("arrived")

    def wrong_and_sent_back(self, part: str, note: str, owed: str) -> None:
        self.terminal.send("w")
        self.terminal.wait_for(f"Wrong or broken: {part}", "Owed back")
        self.choose("wrong", opened="broken", then="What it is")
        self.fill(note, owed)
        self.save("Wrong or broken")
        self.terminal.wait_for("owed back")
        self.terminal.send("b")
        self.terminal.wait_for("is sent back")

    def another(self, part: str, price: str, freight: str) -> None:
        """Another one in the place of the order under the cursor."""
        self.terminal.send("o")
        self.terminal.wait_for(f"Order another {part}", "Freight")
        self.fill("", "", price, freight, "", "+3")
        self.save(f"Order another {part}")

    def refunded(self, part: str, amount: str) -> None:
        self.terminal.send("r")
        self.terminal.wait_for(f"Refunded: {part}", "Came back")
        self.replace(amount, hint="0 for nothing")
        self.save(f"Refunded: {part}")
        self.terminal.wait_for("refunded", f"{amount}.00 EUR came back")

    def fit_from_shelf(self, part: str, tag: str) -> None:
        """On the parts' screen: the only part that lies on the shelf."""
        self.terminal.send("s")
        self.terminal.wait_for("Fit which part from the shelf?", part)
        self.terminal.send(ENTER)
        self.terminal.wait_for(f"{part} into {tag}")

    def swap_drives(self, other: str, gives: tuple[str, str], gets: tuple[str, str]) -> None:
        """On the parts' screen: cost and serial number of what goes and of what comes."""
        self.terminal.send("w")
        self.terminal.wait_for("Swap a part of")
        self.fill(other, "drive", *gives, *gets)
        self.save("Swap a part of")
        self.terminal.wait_for("drive swapped")
