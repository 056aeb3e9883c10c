"""The forms of a repair: taken in and noted, a line of its quote, the quote given and answered, the terms."""

from __future__ import annotations

from bench.dashboard import use_cases
from bench.dashboard.screens.dialogs.choice_fields import ChoiceField
from bench.dashboard.screens.dialogs.described import Begun, Filled, FormOf
from bench.dashboard.screens.dialogs.form import form
from bench.dashboard.screens.dialogs.text_fields import (
    DAY,
    FIGURE,
    MONEY,
    SHARE,
    WHOLE,
    NumberField,
    TextField,
)
from bench.domain.money import show_money
from bench.domain.percent import show_percent
from bench.domain.quantities import plain_number
from bench.domain.quote_totals import KINDS
from bench.domain.repair_jobs import ANSWERS, CONSENTS, LOCAL_LAW, NOT_BINDING
from bench.views.repair_jobs import Job, RepairLine
from bench.views.trade import TradeSettings, read_trade

CONSENT_CHOICES = tuple((words, words) for words in CONSENTS)


@form
def job_form(unit_id: int, tag: str, job: Job | None = None) -> FormOf[bool]:
    """A repair taken in, or what was noted of it corrected, with the diagnosis."""

    def keep(filled: Filled) -> object:
        if job is None:
            return use_cases.repair_jobs.open_job(filled.desk, unit_id, **filled.typed)
        use_cases.repair_jobs.edit_job(filled.desk, job.job_id, **filled.typed)
        return job.job_id

    return FormOf(
        heading=f"Take in the repair of {tag}" if job is None else f"Repair of {tag}",
        draft=f"repair {unit_id}" if job is None else f"repair job {job.job_id}",
        fields=(
            TextField("complaint", "Complaint", hint="in the owner's words"),
            TextField("came_along", "Came along", hint="charger, bag"),
            TextField("arrival", "State at arrival", hint="what is scratched, cracked, missing"),
            ChoiceField("data_consent", "Its data", CONSENT_CHOICES, none="not asked yet"),
            TextField("diagnosis", "Diagnosis", hint="what is found to be wrong"),
        ),
        begins=lambda _: Begun(values=_job_values(job)) if job is not None else Begun(),
        does=keep,
    )


def _job_values(job: Job) -> dict[str, str]:
    return {
        "complaint": job.complaint,
        "came_along": job.came_along,
        "arrival": job.arrival,
        "data_consent": job.data_consent,
        "diagnosis": job.diagnosis,
    }


@form
def line_form(job: Job, line: RepairLine | None = None) -> FormOf[bool]:
    """A line of the quote, new or corrected; beyond the quote once that is answered."""

    def keep(filled: Filled) -> object:
        if line is None:
            return use_cases.quotes.add_line(filled.desk, job.job_id, **filled.typed)
        return use_cases.quotes.edit_line(filled.desk, line.line_id, **filled.typed)

    def begin(trade: TradeSettings) -> Begun:
        hints = {"tax_text": f"empty: {show_percent(trade.repair_tax_per_10000)}"}
        if line is None:
            return Begun(hints=hints)
        return Begun(
            hints=hints,
            values={
                "what": line.what,
                "kind": line.kind,
                "quantity_text": plain_number(line.quantity),
                "price_text": show_money(line.price_minor, trade.currency),
                "tax_text": show_percent(line.tax_per_10000),
            },
        )

    beyond = " beyond the quote" if job.answer is not None else ""
    return FormOf(
        heading=f"Line{beyond} for {job.tag}",
        draft=f"quote line {job.job_id}" if line is None else f"quote line {job.job_id} {line.line_id}",
        fields=(
            TextField("what", "For", hint="such as fan, or fitting it"),
            ChoiceField("kind", "Kind", tuple((kind, kind) for kind in KINDS), none=None),
            NumberField(
                "quantity_text",
                "Pieces or hours",
                like=FIGURE,
                hint="empty: one; hours such as 1.5 or 90 min",
            ),
            NumberField(
                "price_text", "Price of one", like=MONEY, hint="without tax; labour: the hourly rate"
            ),
            NumberField("tax_text", "Tax rate", like=SHARE),
        ),
        known=NOT_BINDING,
        reads=read_trade,
        begins=begin,
        does=keep,
    )


@form
def give_form(job: Job) -> FormOf[bool]:
    """The quote given to the owner: on which day, until when it holds, the warranty on the repair."""

    def begin(trade: TradeSettings) -> Begun:
        return Begun(
            hints={
                "until_text": f"empty: {trade.quote_days} days",
                "warranty_text": f"empty: {trade.repair_warranty_days}, the shop's own",
            }
        )

    return FormOf(
        heading=f"Quote given for {job.tag}",
        draft=f"give quote {job.job_id}",
        fields=(
            NumberField("on_text", "Given on", like=DAY, hint="empty: today"),
            NumberField("until_text", "Valid until", like=DAY),
            NumberField("warranty_text", "Warranty days", like=WHOLE),
        ),
        reads=read_trade,
        begins=begin,
        does=lambda filled: use_cases.quotes.give_quote(filled.desk, job.job_id, **filled.typed),
    )


@form
def answer_form(job: Job) -> FormOf[bool]:
    """What the owner said to the quote."""
    return FormOf(
        heading=f"Answer to the quote for {job.tag}",
        draft=f"answer quote {job.job_id}",
        fields=(
            ChoiceField("answer", "Answer", tuple((one, one) for one in ANSWERS), none=None),
            NumberField("on_text", "On", like=DAY, hint="empty: today"),
            TextField("how", "How", hint="in person, by phone, in writing"),
        ),
        does=lambda filled: use_cases.quotes.answer_quote(filled.desk, job.job_id, **filled.typed),
    )


@form
def repair_terms_form(trade: TradeSettings) -> FormOf[bool]:
    """Tax on repairs, how long a quote holds, warranty, from when a machine is uncollected."""

    def begin(_: None) -> Begun:
        return Begun(
            values={
                "tax_text": show_percent(trade.repair_tax_per_10000),
                "quote_days_text": str(trade.quote_days),
                "warranty_text": str(trade.repair_warranty_days),
                "uncollected_text": str(trade.uncollected_days),
            }
        )

    return FormOf(
        heading="Repairs of owners' machines",
        draft="repair_terms_form",
        fields=(
            NumberField("tax_text", "Tax on repairs", like=SHARE, hint="such as 20 %"),
            NumberField("quote_days_text", "Quote holds days", like=WHOLE),
            NumberField("warranty_text", "Warranty days", like=WHOLE, hint="0: none"),
            NumberField("uncollected_text", "Uncollected days", like=WHOLE, hint="after ready; 0: never"),
        ),
        known=f"{NOT_BINDING} {LOCAL_LAW}",
        begins=begin,
        does=lambda filled: use_cases.repair_terms.edit_repair_terms(filled.desk, **filled.typed),
    )
