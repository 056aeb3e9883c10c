"""An owner's machine by chance: quoted, answered, handed back; what is kept of looks, models and money."""

from __future__ import annotations

from collections.abc import Callable

from hypothesis import strategies as st
from hypothesis.stateful import rule

from bench.desk import Desk
from bench.domain.ways_out import HANDED_BACK
from bench.work.expenses import add_expense, edit_expense, remove_expense
from bench.work.leaving import leave_unit
from bench.work.model_pages import add_model_step, edit_model_page, remove_model_step
from bench.work.moves import move_unit
from bench.work.photographs import attach_photographs, remove_photograph, say_of_photograph
from bench.work.quotes import add_line, answer_quote, give_quote, remove_line
from bench.work.repair_jobs import open_job
from bench.work.specification import set_specification
from bench.work.way_estimates import set_way_estimate
from tests import pictures
from tests.faults.machine_ground import ANY, OWNED, PEOPLE, UNITS, WHY, Ground
from tests.faults.model import Model

_LASTING = "SELECT id FROM repair_job WHERE removed = 0 AND collected_on IS NULL"
_PHOTOGRAPHS = "SELECT id FROM photograph WHERE removed = 0"


class KeptActs(Ground):
    """Each rule does one thing as one person; what is refused must leave all as it was."""

    @rule(person=PEOPLE)
    def open_job(self, person: int) -> None:
        def do(desk: Desk) -> Callable[[Model], None]:
            job = open_job(desk, OWNED, complaint=WHY).job_id
            return lambda model: model.open_job(job, OWNED)

        self.act(person, "repair", do)

    @rule(person=PEOPLE, price=st.integers(1, 90))
    def add_line(self, person: int, price: int) -> None:
        job = self.one(_LASTING)

        def do(desk: Desk) -> Callable[[Model], None]:
            line = add_line(desk, job, what="fan", kind="parts", price_text=str(price)).line_id or 0
            return lambda model: model.add_line(job, line, price * 100)

        self.act(person, "line", do)

    @rule(person=PEOPLE, choice=ANY)
    def remove_line(self, person: int, choice: int) -> None:
        line = self.chosen("SELECT id FROM quote_line WHERE removed = 0", choice)

        def do(desk: Desk) -> Callable[[Model], None]:
            remove_line(desk, line)
            return lambda model: model.remove_line(line)

        self.act(person, "remove line", do)

    @rule(person=PEOPLE)
    def give_quote(self, person: int) -> None:
        job = self.one(f"{_LASTING} AND quoted_on IS NULL")

        def do(desk: Desk) -> Callable[[Model], None]:
            give_quote(desk, job)
            return lambda model: model.give_quote(job)

        self.act(person, "quote", do)

    @rule(person=PEOPLE, answer=st.sampled_from(("accepted", "declined")))
    def answer_quote(self, person: int, answer: str) -> None:
        job = self.one(_LASTING)

        def do(desk: Desk) -> Callable[[Model], None]:
            answer_quote(desk, job, answer=answer)
            return lambda model: model.answer_quote(job, answer)

        self.act(person, "answer", do)

    @rule(person=PEOPLE)
    def hand_back(self, person: int) -> None:
        if self.one("SELECT final FROM stage JOIN unit ON stage.id = stage_id WHERE unit.id = ?", OWNED):
            return

        def do(desk: Desk) -> Callable[[Model], None]:
            leave_unit(desk, OWNED, way=HANDED_BACK, reason=WHY)
            return lambda model: model.hand_back(OWNED)

        self.act(person, "hand back", do)

    @rule(person=PEOPLE)
    def fetch_back(self, person: int) -> None:
        if not self.one("SELECT final FROM stage JOIN unit ON stage.id = stage_id WHERE unit.id = ?", OWNED):
            return

        def do(desk: Desk) -> Callable[[Model], None]:
            move_unit(desk, OWNED, 2, open_tasks="skip", done_tasks="keep", reason=WHY)
            return lambda model: model.fetch_back(OWNED)

        self.act(person, "fetch back", do)

    @rule(person=PEOPLE)
    def spend(self, person: int) -> None:
        amount = self.newest()

        def do(desk: Desk) -> Callable[[Model], None]:
            expense = add_expense(desk, category="rent", amount_text=str(amount)).expense_id
            return lambda model: model.spend(expense, amount * 100)

        self.act(person, "expense", do)

    @rule(person=PEOPLE, off=st.booleans(), choice=ANY)
    def change_expense(self, person: int, off: bool, choice: int) -> None:
        expense, amount = self.chosen("SELECT id FROM expense WHERE removed = 0", choice), self.newest()
        told = {
            "category": "rent",
            "side": "expense",
            "day_text": "",
            "party": "",
            "note": "",
            "tax_text": "",
        }

        def do(desk: Desk) -> Callable[[Model], None]:
            if off:
                remove_expense(desk, expense)
                return lambda model: model.change_expense(expense, None)
            edit_expense(desk, expense, amount_text=str(amount), **told)
            return lambda model: model.change_expense(expense, amount * 100)

        self.act(person, "remove expense" if off else "edit expense", do)

    @rule(person=PEOPLE, unit=UNITS, way=st.sampled_from(("as is", "parts")))
    def estimate(self, person: int, unit: int, way: str) -> None:
        price = self.newest()

        def do(desk: Desk) -> Callable[[Model], None]:
            set_way_estimate(desk, unit, way, price_text=str(price), minutes_text="")
            return lambda model: model.estimate(unit, way, price * 100)

        self.act(person, "estimate", do)

    @rule(person=PEOPLE, unit=UNITS, which=st.sampled_from(("processor", "colour")))
    def specify(self, person: int, unit: int, which: str) -> None:
        words = f"P {self.newest()}"

        def do(desk: Desk) -> Callable[[Model], None]:
            row = set_specification(desk, unit, {which: words}).specification_id
            told = {"processor": None, "colour": None, which: words}
            return lambda model: model.specify(row, unit, **told)

        self.act(person, "specification", do)

    @rule(person=PEOPLE, unit=UNITS, shade=st.integers(0, 2))
    def photograph(self, person: int, unit: int, shade: int) -> None:
        path, words = self.folder / f"picture{shade}.jpg", f"line {self.newest()}"
        path.write_bytes(pictures.jpeg(shade=shade, size=(8, 8)))
        there = "SELECT id FROM photograph WHERE unit_id = ? AND removed = 0 AND name LIKE ?"
        if self.one(there, unit, f"picture{shade}%"):
            return

        def do(desk: Desk) -> Callable[[Model], None]:
            kept = attach_photographs(desk, unit, [str(path)], caption=words).photographs[0]
            return lambda model: model.attach(kept.photograph_id, words)

        self.act(person, "photograph", do)

    @rule(person=PEOPLE, off=st.booleans(), choice=ANY)
    def change_photograph(self, person: int, off: bool, choice: int) -> None:
        photograph, words = self.chosen(_PHOTOGRAPHS, choice), f"line {self.newest()}"

        def do(desk: Desk) -> Callable[[Model], None]:
            if off:
                remove_photograph(desk, photograph)
                return lambda model: model.remove_photograph(photograph)
            say_of_photograph(desk, photograph, words)
            return lambda model: model.caption(photograph, words)

        self.act(person, "remove photograph" if off else "caption", do)

    @rule(person=PEOPLE, model=st.sampled_from(("M", "N")))
    def write_page(self, person: int, model: str) -> None:
        words = f"traps {self.newest()}"

        def do(desk: Desk) -> Callable[[Model], None]:
            edit_model_page(desk, "", model, traps=words)
            return lambda shop: shop.write_page(model, words)

        self.act(person, "page", do)

    @rule(person=PEOPLE, model=st.sampled_from(("M", "N")))
    def add_step(self, person: int, model: str) -> None:
        words = f"step {self.newest()}"

        def do(desk: Desk) -> Callable[[Model], None]:
            step = add_model_step(desk, "", model, words=words)
            return lambda shop: shop.add_step(model, step, words)

        self.act(person, "step", do)

    @rule(person=PEOPLE, choice=ANY)
    def remove_step(self, person: int, choice: int) -> None:
        step = self.chosen("SELECT id FROM model_step WHERE removed = 0", choice)

        def do(desk: Desk) -> Callable[[Model], None]:
            remove_model_step(desk, step)
            return lambda model: model.remove_step(step)

        self.act(person, "remove step", do)

    def kept_is_so(self, model: Model) -> None:
        jobs = {
            (one, job.unit, job.quoted, job.answer, job.over, job.billed) for one, job in model.jobs.items()
        }
        assert set(self.all(_JOBS)) == jobs
        lines = self.all("SELECT id, job_id, price_minor, beyond FROM quote_line WHERE removed = 0")
        assert set(lines) == {(line, *one) for line, one in model.lines.items()}
        expenses = self.all("SELECT id, amount_minor FROM expense WHERE removed = 0")
        assert set(expenses) == set(model.expenses.items())
        estimates = self.all("SELECT unit_id, way, price_minor FROM way_estimate WHERE removed = 0")
        assert set(estimates) == {(*of, price) for of, price in model.estimates.items()}
        known = self.all(_SPECIFICATIONS)
        assert set(known) == {(row, *one) for row, one in model.specifications.items()}
        assert set(self.all(_CAPTIONED)) == set(model.photographs.items())
        pages = self.all("SELECT model, traps FROM model_page WHERE removed = 0")
        assert set(pages) == set(model.pages.items())
        assert set(self.all("SELECT id, words FROM model_step WHERE removed = 0")) == set(model.steps.items())


_JOBS = """
SELECT repair_job.id, repair_job.unit_id, quoted_on IS NOT NULL, answer, collected_on IS NOT NULL, price_minor
FROM repair_job LEFT JOIN way_out ON way_out.id = way_out_id WHERE repair_job.removed = 0"""
_SPECIFICATIONS = """
SELECT id, unit_id, COALESCE(processor, ''), COALESCE(colour, '') FROM specification WHERE removed = 0"""
_CAPTIONED = """
SELECT photograph.id, COALESCE(caption, '') FROM photograph LEFT JOIN photograph_caption AS said
ON said.photograph_id = photograph.id AND said.removed = 0 WHERE photograph.removed = 0"""
