"""The register of second-hand goods as text, CSV, HTML and JSON, and the people in it as text and JSON.

The CSV has a line for each line of the register.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from bench.domain.localtime import day_and_time
from bench.domain.money import at_least, money_or, show_money
from bench.domain.percent import show_percent
from bench.reports.html_page import facts_table, heading, page, paragraph, told_html
from bench.reports.plain_tables import one_line, sections, table, told, wrapped
from bench.reports.plain_values import csv_text, facts_of, json_text
from bench.reports.record_keys import columns_of
from bench.views.kinds import context_of
from bench.views.parties import PartyLine
from bench.views.register import NOT_ADVICE, NOT_GOODS, TAX_RULE, Register, RegisterLine
from bench.views.tables.register import PEOPLE, REGISTER, Person, number_words

CSV_COLUMNS = (*columns_of(RegisterLine), "currency")


def register_text(register: Register) -> str:
    """The register for a terminal: a few lines a number."""
    lines = "\n".join(wrapped(_words(line, register), indent=6) for line in register.lines)
    return sections(
        one_line(_title(register)),
        lines or "The register has no such line.",
        table(("Totals", ""), _totals(register)),
        "\n".join(map(wrapped, _rules(register))),
    )


def register_csv(register: Register) -> str:
    """One line a line of the register."""
    money = {"currency": register.currency}
    return csv_text(CSV_COLUMNS, (facts_of(line, register.zone) | money for line in register.lines))


def register_json(register: Register) -> str:
    """The register as a JSON document, with its sums."""
    return json_text("register", facts_of(register, register.zone))


def register_html(register: Register) -> str:
    """The register as one page to be printed."""
    return page(
        _title(register),
        told_html(REGISTER, register.lines, context_of(register)),
        heading("Totals"),
        facts_table(_totals(register)),
        *map(paragraph, _rules(register)),
        wide=True,
    )


def _title(register: Register) -> str:
    read = day_and_time(register.read_us, register.zone)
    return f"{register.shop}: register of second-hand goods, read {read}"


def _words(line: RegisterLine, register: Register) -> str:
    if line.state in NOT_GOODS:
        return f"{line.number}  {line.state}"
    return f"{number_words(line)}  " + "; ".join(_parts(line, register.currency))


def _parts(line: RegisterLine, currency: str) -> Iterator[str]:
    yield f"{line.tag} {line.what}{f', serial {line.serial}' if line.serial else ''}"
    yield f"bought {_source(line)} for {money_or(line.purchase_minor, currency, 'a price not noted')}"
    if line.free_from is not None:
        yield f"free from {line.free_from}"
    if line.sold_on is not None:
        yield f"sold {line.sold_on}{_to(line)} for {money_or(line.price_minor, currency)}"
    if line.back_on is not None:
        yield f"came back {line.back_on}, refunded {money_or(line.refund_minor, currency)}"
    if line.margin_minor is not None:
        yield f"margin {money_or(line.margin_minor, currency)}"
    if line.tax_minor:
        yield f"tax {money_or(line.tax_minor, currency)}"
    if line.sold_on is None:
        yield line.state


def _source(line: RegisterLine) -> str:
    invoice = f", invoice {line.purchase_invoice}" if line.purchase_invoice else ""
    lot = f" in the lot {line.lot}" if line.lot else ""
    return f"{line.bought_on or 'day not noted'} from {line.seller or 'someone not noted'}{invoice}{lot}"


def _to(line: RegisterLine) -> str:
    invoice = f", invoice {line.sale_invoice}" if line.sale_invoice else ""
    return f"{f' to {line.buyer}' if line.buyer else ''}{invoice}"


def _totals(register: Register) -> list[tuple[str, str]]:
    currency = register.currency
    margins = show_money(register.margins_minor, currency)
    if register.unpriced:
        margins += f", without {', '.join(register.unpriced)}: no price paid typed"
    return [
        ("paid for the units", at_least(register.purchases_minor, currency, known=not register.unpriced)),
        ("sold for", show_money(register.sales_minor, currency)),
        ("refunded", show_money(register.refunds_minor, currency)),
        ("margins of sales that stand, losses taken off", margins),
        ("tax on margins", show_money(register.taxes_minor, currency)),
    ]


def _rules(register: Register) -> list[str]:
    scheme = "Margin scheme: off; no tax is calculated at a sale."
    if register.margin_scheme:
        scheme = f"Margin scheme: on, at {show_percent(register.margin_tax_per_10000)}. {TAX_RULE}"
    hold = "Waiting period: none is set."
    if register.hold_days:
        hold = f"Waiting period: {register.hold_days} days from the purchase, neither altered nor sold."
    return [scheme, hold, NOT_ADVICE]


RULE = (
    "Private people's data may go so many years after the last business with them as the shop's settings "
    "say; until then the register needs them. Local law comes first."
)


def parties_text(lines: Sequence[PartyLine], today: date) -> str:
    """A line each, the number first by which a command names it."""
    people = told(PEOPLE, [Person(line, today) for line in lines])
    return sections(people, wrapped(RULE) if lines else "")
