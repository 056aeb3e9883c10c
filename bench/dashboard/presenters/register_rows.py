"""The register of second-hand goods and the people in it, as rows."""

from __future__ import annotations

from bench.dashboard.presenters.pieces import Line, Part, spread, wrap
from bench.domain.money import at_least, money_or, show_money
from bench.domain.party import Erased
from bench.domain.percent import show_percent
from bench.domain.text import for_display
from bench.views.kinds import Context
from bench.views.register import NOT_ADVICE, TAX_RULE, Register, RegisterLine


def register_head(register: Register, width: int) -> tuple[Line, ...]:
    """How many lines, and the sums."""
    left = (
        Part(" Register", "strong"),
        Part(f"  {len(register.lines)} line{'' if len(register.lines) == 1 else 's'}", "muted"),
    )
    currency = register.currency
    right = [
        Part(
            f"bought {at_least(register.purchases_minor, currency, known=not register.unpriced)}, ", "muted"
        ),
        Part(f"sold {show_money(register.sales_minor, currency)}", "heading"),
    ]
    if register.margin_scheme:
        right.append(Part(f", tax {show_money(register.taxes_minor, currency)}", "muted"))
    return (spread(left, (*right, Part(" ")), width),)


def first_page_head(register: Register, width: int) -> tuple[Line, ...]:
    """That these are the first lines: how many there are and what they come to is not known yet."""
    lines = f"the first {len(register.lines)} lines, the others are being read"
    return (spread((Part(" Register", "strong"), Part(f"  {lines}", "muted")), (), width),)


def line_detail(
    register: Register, line: RegisterLine | None, context: Context, width: int
) -> tuple[Line, ...]:
    """All of one line, and the rules the register is kept by."""
    words = [] if line is None else [*_bought(line, context), *_sold(line, context)]
    lines: list[Line] = [(Part(one),) for text in words for one in wrap(text, width)]
    hold = f"Waiting period: {register.hold_days} days. " if register.hold_days else ""
    scheme = f"Margin scheme on, {show_percent(register.margin_tax_per_10000)}. {TAX_RULE}"
    rules = f"{NOT_ADVICE} {hold}{scheme if register.margin_scheme else ''}".rstrip()
    return (*lines, *((Part(one, "muted"),) for one in wrap(rules, width)))


def erased_words(erased: Erased) -> str:
    """Whose data are gone, where words of theirs still stand, and what is left to do by hand."""
    words = f"Erased the data of {len(erased.party_ids)}; the figures stay."
    if erased.left_in:
        words += f" The same words still stand in: {', '.join(erased.left_in)}. Look there by hand."
    if erased.in_copies:
        words += f" They still stand in {erased.in_copies}."
    return f"{words} {erased.not_rewritten}".rstrip()


def _bought(one: RegisterLine, context: Context) -> list[str]:
    day = "Came in" if one.bought_on is None else "Bought"
    words = [f"{day} {context.day(one.bought_on or one.came_on)}"]
    words += [f"from {for_display(one.seller)}"] if one.seller else []
    words += [f"of {for_display(one.seller_address)}"] if one.seller_address else []
    words += [f"ID seen: {for_display(one.identity_seen)}"] if one.identity_seen else []
    words += [f"invoice {for_display(one.purchase_invoice)}"] if one.purchase_invoice else []
    words += [f"for {_money(one.purchase_minor, context)}"] if one.purchase_minor is not None else []
    words += [f"its share of the lot {for_display(one.lot)}"] if one.lot else []
    words += [f"free from {context.day(one.free_from)}"] if one.free_from else []
    serial = f"Serial number {for_display(one.serial)}. " if one.serial else ""
    state = "" if one.sold_on is not None else f" {one.state.capitalize()}."
    return [f"{serial}{', '.join(words)}.{state}"]


def _sold(one: RegisterLine, context: Context) -> list[str]:
    if one.sold_on is None:
        return []
    words = [f"Sold {context.day(one.sold_on)}"]
    words += [f"to {for_display(one.buyer)}"] if one.buyer else []
    words += [f"of {for_display(one.buyer_address)}"] if one.buyer_address else []
    words += [f"for {_money(one.price_minor, context)}"]
    words += [f"through {for_display(one.channel)}"] if one.channel else []
    words += [f"invoice {for_display(one.sale_invoice)}"] if one.sale_invoice else []
    words += [f"margin {_money(one.margin_minor, context)}"] if one.margin_minor is not None else []
    words += [f"tax {_money(one.tax_minor, context)}"] if one.tax_minor else []
    if one.back_on is not None:
        words.append(
            f"came back {context.day(one.back_on)}, {_money(one.refund_minor or 0, context)} refunded"
        )
    return [f"{', '.join(words)}."]


def _money(minor: int | None, context: Context) -> str:
    return money_or(minor, context.currency)
