"""What the simple shop keeps of an owner's machine, of money that is no unit's, of models and of looks."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from tests.faults.model_ground import Bench, need


@dataclass(frozen=True)
class Job:
    """A repair: whether its quote was given, what the owner said, and what the bill came to."""

    unit: int
    quoted: bool = False
    answer: str | None = None
    billed: int | None = None
    over: bool = False


@dataclass
class Kept(Bench):
    """Jobs; their lines (job, price, beyond the quote); the rest by number, or by what it is of."""

    jobs: dict[int, Job] = field(default_factory=dict)
    lines: dict[int, tuple[int, int, int]] = field(default_factory=dict)
    expenses: dict[int, int] = field(default_factory=dict)
    estimates: dict[tuple[int, str], int] = field(default_factory=dict)
    specifications: dict[int, tuple[int, str, str]] = field(default_factory=dict)
    photographs: dict[int, str] = field(default_factory=dict)
    pages: dict[str, str] = field(default_factory=dict)
    steps: dict[int, str] = field(default_factory=dict)

    def at_hand(self, unit: int) -> int:
        """The repair of a unit that lasts; 0 where none does."""
        return next((job for job, one in self.jobs.items() if one.unit == unit and not one.over), 0)

    def lasts(self, job: int) -> Job:
        need(job in self.jobs and not self.jobs[job].over, f"repair {job} goes on, which does not last")
        return self.jobs[job]

    def open_job(self, job: int, unit: int) -> None:
        need(not self.at_hand(unit), f"a second repair of {unit}")
        need(unit not in self.sold, f"a repair of {unit}, which is out")
        self.jobs[job] = Job(unit)

    def add_line(self, job: int, line: int, price: int) -> None:
        one = self.lasts(job)
        self.lines[line] = (job, price, int(one.answer is not None))
        if one.answer is None:
            self.jobs[job] = replace(one, quoted=False)

    def remove_line(self, line: int) -> None:
        need(line in self.lines, f"line {line} removed, not there")
        job, _, beyond = self.lines.pop(line)
        one = self.lasts(job)
        need(one.answer is None or bool(beyond), f"line {line} removed, and its quote was answered")
        if one.answer is None:
            self.jobs[job] = replace(one, quoted=False)

    def give_quote(self, job: int) -> None:
        one = self.lasts(job)
        need(one.answer is None, f"quote {job} given again, which was answered")
        need(any(line[0] == job for line in self.lines.values()), f"quote {job} given without a line")
        self.jobs[job] = replace(one, quoted=True)

    def answer_quote(self, job: int, answer: str) -> None:
        one = self.lasts(job)
        need(one.quoted and one.answer is None, f"quote {job} answered, which was not given, or twice")
        self.jobs[job] = replace(one, answer=answer)

    def bill(self, job: int) -> int | None:
        """What the owner pays: the lines of the quote unless that was declined, and those beyond it."""
        declined = self.jobs[job].answer == "declined"
        lines = [
            price for one, price, beyond in self.lines.values() if one == job and (beyond or not declined)
        ]
        return sum(lines) if lines else None

    def hand_back(self, unit: int) -> None:
        self.may_work(unit)
        job = self.at_hand(unit)
        if job:
            one = self.jobs[job]
            need(not one.quoted or one.answer is not None, f"{unit} handed back, its quote without an answer")
            self.jobs[job] = replace(one, over=True, billed=self.bill(job))
        self.stop_all(unit)
        self.listed.discard(unit)
        self.sold.add(unit)

    def fetch_back(self, unit: int) -> None:
        need(unit in self.sold, f"{unit} fetched back, which is not out")
        self.sold.discard(unit)

    def spend(self, expense: int, amount: int) -> None:
        self.expenses[expense] = amount

    def change_expense(self, expense: int, amount: int | None) -> None:
        """None: taken off the records."""
        need(expense in self.expenses, f"expense {expense} changed, not there")
        if amount is None:
            del self.expenses[expense]
        else:
            self.expenses[expense] = amount

    def estimate(self, unit: int, way: str, price: int) -> None:
        self.estimates[unit, way] = price

    def specify(self, row: int, unit: int, processor: str | None, colour: str | None) -> None:
        """What is not said stays as the newest before said it."""
        own = [one for one, told in self.specifications.items() if told[0] == unit]
        before = self.specifications[max(own)] if own else (unit, "", "")
        known = (before[1] if processor is None else processor, before[2] if colour is None else colour)
        self.specifications[row] = (unit, *known)

    def attach(self, photograph: int, caption: str) -> None:
        need(photograph not in self.photographs, f"photograph {photograph} kept twice")
        self.photographs[photograph] = caption

    def caption(self, photograph: int, caption: str) -> None:
        need(photograph in self.photographs, f"photograph {photograph} captioned, not there")
        self.photographs[photograph] = caption

    def remove_photograph(self, photograph: int) -> None:
        need(photograph in self.photographs, f"photograph {photograph} removed, not there")
        del self.photographs[photograph]

    def write_page(self, model: str, traps: str) -> None:
        self.pages[model] = traps

    def add_step(self, model: str, step: int, words: str) -> None:
        """A page is there from its first step on."""
        self.pages.setdefault(model, "")
        self.steps[step] = words

    def remove_step(self, step: int) -> None:
        need(step in self.steps, f"step {step} removed, not there")
        del self.steps[step]
