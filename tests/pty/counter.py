"""A person at the counter: an owner's machine taken in for repair, quoted, and handed back with its bill."""

from __future__ import annotations

from datetime import date

from tests.pty.at_the_bench import SAVE, TAB
from tests.pty.mending import Mender


class Counter(Mender):
    """Each method begins and ends on the screen of the repair, else on the one that it names."""

    def set_repair_tax(self, share: str) -> None:
        """On the screen of the trading settings."""
        self.cursor_to("Tax on repairs")
        self.terminal.send("e")
        self.terminal.wait_for("Repairs of owners' machines", "Quote holds days")
        self.replace(share, hint="such as 20 %")
        self.save("Quote holds days")
        self.terminal.wait_for(share)

    def take_in_machine(self, maker: str, model: str, serial: str, owner: str, tag: str) -> None:
        """On the first screen, on the route that only cleans."""
        self.terminal.send("n")
        self.terminal.wait_for("New unit")
        self.fill(maker, model, serial, "")
        self.choose("clean", opened="donor strip", then="Due")
        self.fill("", "", owner)
        self.save("New unit")
        self.terminal.wait_for(tag, model)

    def take_in_repair(self, complaint: str, along: str, arrival: str, consent: str) -> None:
        self.terminal.send("n")
        self.terminal.wait_for("Take in the repair of", "Its data")
        self.fill(complaint, along, arrival, "")
        self.choose(consent, opened="may be erased", then="Diagnosis")
        self.save("Take in the repair of")
        self.terminal.wait_for(complaint, along, arrival, consent, "not quoted yet")

    def diagnose(self, found: str) -> None:
        self.terminal.send("n")
        self.terminal.wait_for("what is found to be wrong", "Its data")
        self.terminal.send(4 * TAB)
        self.fill(found)
        self.save("Its data")
        self.terminal.wait_for("Diagnosis", found)

    def quote_line(self, what: str, kind: str, number: str, price: str, tax: str, sums: str) -> None:
        """One more line; `sums`: what all of them come to then."""
        self.terminal.send("l")
        self.terminal.wait_for("Pieces or hours", "Tax rate")
        self.fill(what, "")
        self.choose(kind, opened="allowance", then="Pieces or hours")
        self.fill(number, price, tax)
        self.save("Pieces or hours")
        self.terminal.wait_for(what, sums)

    def give_quote(self, day: str, warranty: str) -> None:
        self.terminal.send("g")
        self.terminal.wait_for("Quote given for", "Given on")
        self.fill(day, "", warranty)
        self.save("Given on")
        self.terminal.wait_for(f"Quote given      {_short(day)}", "open until")

    def accepted(self, day: str, how: str) -> None:
        self.terminal.send("a")
        self.terminal.wait_for("Answer to the quote for", "in person, by phone")
        self.choose("accepted", opened="declined", then="On  ")
        self.fill(day, how)
        self.save("Answer to the quote for")
        self.terminal.wait_for(
            f"Answer           accepted {_short(day)}", f"Answered how     {how}", "quote accepted"
        )

    def ready(self) -> None:
        self.terminal.send("r")
        self.terminal.wait_for("ready since")

    def hand_back(self, tag: str, why: str) -> None:
        self.terminal.send("h")
        self.terminal.wait_for(f"{tag} leaves, not sold", "The price of the repair is income")
        self.terminal.send(TAB)
        self.fill(why)
        self.save("leaves, not sold")
        self.terminal.wait_for("handed back")

    def scrap(self, tag: str, why: str, proceeds: str) -> None:
        """From the first screen and back to it."""
        self.sheet("x", f"{tag} leaves, not sold", "it is lost today")
        self.choose("scrapped", opened="broken for parts", then="Why")
        self.fill(why, "", proceeds)
        self.terminal.send(SAVE)
        self.terminal.wait_for(f"Before unit {tag} is listed or sold", "[ ] I looked")
        self.terminal.send(" ")
        self.terminal.wait_for("[✓] I looked")
        self.terminal.send(SAVE)
        self.terminal.wait_gone("I looked", "leaves, not sold")


def _short(day: str) -> str:
    """The day as the screen has it within its own year."""
    shown = date.fromisoformat(day)
    return f"{shown.day} {shown:%b}"
