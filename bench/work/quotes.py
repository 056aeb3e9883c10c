"""The quote of a repair: its lines, when it was given, and what the owner said to it.

Once it is answered its lines stand; what comes on top is a line beyond the quote, and stands in the bill.
"""

from __future__ import annotations

from dataclasses import dataclass

from sqlmodel import select

from bench.desk import Desk
from bench.domain.amounts import Minor
from bench.domain.dates import read_day
from bench.domain.money import read_money, show_money
from bench.domain.percent import read_percent
from bench.domain.quote_totals import KINDS, LABOUR, Priced, QuoteTotal, quote_total, read_amount
from bench.domain.repair_jobs import ANSWERS, DECLINED
from bench.domain.text import clean_line, quoted
from bench.domain.typed import TypedFields, read_whole
from bench.errors import BadInput, Refused
from bench.store.tables import QuoteLine, RepairJob, Unit
from bench.work.change import Change, change
from bench.work.lookups import shop_of, today
from bench.work.names import tells_if_changed
from bench.work.repair_jobs import lasting
from bench.work.trade import trade_of

MOST_DAYS = 3650
LONGEST = 200


@dataclass(frozen=True, slots=True)
class Quoted:
    """A quote or a bill as it stands after an act. Money in minor units of `currency`."""

    job_id: int
    unit_id: int
    tag: str
    total_minor: Minor
    currency: str
    line_id: int | None = None


def add_line(
    desk: Desk,
    job_id: int,
    *,
    what: str,
    kind: str,
    quantity_text: str = "",
    price_text: str = "",
    tax_text: str = "",
) -> Quoted:
    """One more line. A quantity of nothing typed is one piece or hour; of hours, a price is the shop's rate.

    The price is that of one, without tax; no tax rate typed is the shop's own for repairs.
    """
    with change(desk, "quote line") as made:
        job = lasting(made, job_id)
        line = QuoteLine(job_id=job_id, what="", kind=LABOUR, quantity=1, price_minor=0)
        _fill(made, line, what, kind, quantity_text, price_text, tax_text)
        line.beyond = int(job.answer is not None)
        made.add(line)
        _given_anew(job)
        where = "beyond the quote for" if line.beyond else "to the quote for"
        return _quoted(made, job, f"Added {quoted(line.what)} {where}", line.id)


def edit_line(
    desk: Desk, line_id: int, *, what: str, kind: str, quantity_text: str, price_text: str, tax_text: str
) -> Quoted:
    """Set a line right, all of it as typed. Refused once the quote it stands in was answered."""
    with change(desk, "edit quote line") as made:
        line, job = _open_line(made, line_id)
        _fill(made, line, what, kind, quantity_text, price_text, tax_text)
        made.session.flush()
        if made.recorder:
            _given_anew(job)
        return _quoted(made, job, f"Changed {quoted(line.what)} in the quote for", line_id)


def remove_line(desk: Desk, line_id: int) -> Quoted:
    """Take a line out. Refused once the quote it stands in was answered."""
    with change(desk, "remove quote line") as made:
        line, job = _open_line(made, line_id)
        line.removed = 1
        _given_anew(job)
        return _quoted(made, job, f"Removed {quoted(line.what)} from the quote for")


def give_quote(
    desk: Desk, job_id: int, *, on_text: str = "", until_text: str = "", warranty_text: str = ""
) -> Quoted:
    """Note that the quote was given: on which day, until when it holds, the warranty on the repair in days.

    Nothing typed is today and the shop's own days. Refused without a line, and once it is answered.
    """
    with change(desk, "give quote") as made:
        job, trade = lasting(made, job_id), trade_of(made)
        if job.answer is not None:
            raise Refused(f"The quote was {job.answer} on {job.answered_on}.", "Undo that first.")
        if not lines_of(made, job_id):
            raise Refused("The quote has no lines yet.", "Add what it is for first.")
        fields = TypedFields()
        day = fields.read("on_text", read_day, on_text, today(made), "The day of the quote") or today(made)
        until = fields.read("until_text", read_day, until_text or f"+{trade.quote_days}", day, "Valid until")
        warranty = warranty_text.strip() or str(trade.repair_warranty_days)
        job.warranty_days = fields.read(
            "warranty_text", read_whole, warranty, "The warranty in days", 0, MOST_DAYS
        )
        fields.check()
        if until is not None and until < day:
            raise BadInput(
                "It would be valid until before it is given.", "Look for a slip.", field="until_text"
            )
        job.quoted_on, job.quote_until = day.isoformat(), until.isoformat() if until is not None else None
        return _quoted(made, job, "Gave the quote for")


def answer_quote(desk: Desk, job_id: int, *, answer: str, on_text: str = "", how: str = "") -> Quoted:
    """What the owner said to the quote, on which day and how: in person, by phone, in writing.

    Refused where none was given or it was answered. Late is late: the journal says so, the answer counts.
    """
    with change(desk, "answer quote") as made:
        job = lasting(made, job_id)
        if job.quoted_on is None:
            raise Refused("No quote was given yet.", "Give it first: its lines and its day.")
        if job.answer is not None:
            raise Refused(f"The quote was {job.answer} on {job.answered_on}.", "Undo that first.")
        fields = TypedFields()
        fields.read("answer", _known, answer, ANSWERS, "an answer")
        day = fields.read("on_text", read_day, on_text, today(made), "The day of the answer") or today(made)
        job.answered_how = fields.read("how", clean_line, how, "How it was answered", allow_empty=True)
        fields.check()
        if day.isoformat() < job.quoted_on:
            raise BadInput(
                f"The quote was given on {job.quoted_on}, after that.", "Look for a slip.", field="on_text"
            )
        late = job.quote_until is not None and day.isoformat() > job.quote_until
        job.answer, job.answered_on = answer, day.isoformat()
        return _quoted(made, job, f"The quote was {answer}{', after it lapsed,' if late else ''} for")


def lines_of(made: Change, job_id: int) -> list[QuoteLine]:
    """The lines of a repair that stand, in the order in which they came."""
    statement = select(QuoteLine).where(QuoteLine.job_id == job_id, QuoteLine.removed == 0)
    return sorted(made.session.exec(statement), key=lambda line: line.id or 0)


def bill_of(made: Change, job: RepairJob) -> QuoteTotal | None:
    """What the owner pays by the lines: those of the quote unless it was declined, and those beyond it.

    None where there is no line to pay.
    """
    assert job.id is not None
    lines = [line for line in lines_of(made, job.id) if line.beyond or job.answer != DECLINED]
    return quote_total(map(_priced, lines)) if lines else None


def _priced(line: QuoteLine) -> Priced:
    return Priced(line.kind, line.quantity, line.price_minor, line.tax_per_10000)


def _quoted(made: Change, job: RepairJob, did: str, line_id: int | None = None) -> Quoted:
    unit, currency = made.get(Unit, job.unit_id, "unit"), shop_of(made.session).currency
    assert job.id is not None
    assert unit.id is not None
    total = quote_total(map(_priced, lines_of(made, job.id))).total_minor
    tells_if_changed(made, f"{did} {unit.tag}, {show_money(total, currency)} in all", unit.id)
    return Quoted(job.id, unit.id, unit.tag, total, currency, line_id)


def _given_anew(job: RepairJob) -> None:
    """A quote whose lines change before it is answered has to be given again."""
    if job.answer is None:
        job.quoted_on, job.quote_until = None, None


def _open_line(made: Change, line_id: int) -> tuple[QuoteLine, RepairJob]:
    line = made.get(QuoteLine, line_id, "line of a quote")
    job = lasting(made, line.job_id)
    if job.answer is not None and not line.beyond:
        raise Refused(
            f"The quote was {job.answer} on {job.answered_on}: its lines stand.",
            "Add a line beyond the quote, or an allowance.",
        )
    return line, job


def _fill(
    made: Change, line: QuoteLine, what: str, kind: str, quantity_text: str, price_text: str, tax_text: str
) -> None:
    shop, fields = shop_of(made.session), TypedFields()
    line.what = fields.read("what", clean_line, what, "What the line is for", LONGEST)
    fields.read("kind", _known, kind, KINDS, "a kind of line")
    line.quantity = fields.read("quantity_text", read_amount, quantity_text, kind)
    if kind == LABOUR and not price_text.strip():
        line.price_minor = shop.rate_minor_per_hour
    else:
        line.price_minor = fields.read("price_text", read_money, price_text, shop.currency)
    usual = trade_of(made).repair_tax_per_10000
    line.tax_per_10000 = (
        fields.read("tax_text", read_percent, tax_text, "The tax rate") if tax_text.strip() else usual
    )
    fields.check()
    line.kind = kind


def _known(text: str, words: tuple[str, ...], what: str) -> None:
    if text not in words:
        raise BadInput(f"{quoted(text)} is not {what}.", f"Choose one of: {', '.join(words)}.")
