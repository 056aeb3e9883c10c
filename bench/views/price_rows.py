"""The rows behind a line of the most to pay: past jobs, the route's use, the shop's settings."""

from __future__ import annotations

from bench.desk import Desk
from bench.domain.durations import MINUTE_US
from bench.domain.money import show_money
from bench.domain.most_to_pay import CONSUMABLES, FEES, FEW_JOBS, MARGIN, RESERVE, TAX, TIME
from bench.domain.percent import show_percent
from bench.domain.price_sheet import PriceRow, PriceRows
from bench.domain.quantities import short_quantity
from bench.domain.return_rate import rate_words
from bench.errors import NotFound
from bench.views.most_to_pay import PriceGround, ground_of


def read_price_rows(desk: Desk, opens: str, *, route_id: int | None, channel_id: int | None) -> PriceRows:
    """The rows behind a line of the most to pay, by what the line opens."""
    if opens not in _ROWS:
        raise NotFound("No rows stand behind that line: it was typed.", "Open another line.")
    with desk.store.read() as connection:
        ground = ground_of(connection, route_id, channel_id, desk.clock.now_us())
    title, rows = _ROWS[opens](ground)
    return PriceRows(title, rows, ground.shop.currency, ground.shop.zone)


def _fee_rows(ground: PriceGround) -> tuple[str, tuple[PriceRow, ...]]:
    title = "Channel fees"
    if ground.channel is None:
        return title, ()
    fixed = show_money(ground.channel.fee_fixed_minor, ground.shop.currency)
    words = f"{show_percent(ground.channel.fee_per_10000)} of the price and {fixed}"
    return title, (PriceRow(ground.channel.name, words),)


def _consumable_rows(ground: PriceGround) -> tuple[str, tuple[PriceRow, ...]]:
    return "Consumables, as the route says", tuple(
        PriceRow(use.name, f"{short_quantity(use.quantity, use.base_unit)}, {use.basis}", -use.cost_minor)
        for use in ground.cost.uses
    )


def _time_rows(ground: PriceGround) -> tuple[str, tuple[PriceRow, ...]]:
    if len(ground.jobs) >= FEW_JOBS:
        return "Finished jobs of this route", tuple(
            PriceRow(f"{job.tag} {job.model}", "", length_us=job.hands_on_us, unit_id=job.unit_id)
            for job in ground.jobs
        )
    tasks = ground.route.tasks if ground.route else ()
    return "The route's estimates", tuple(
        PriceRow(task.name, task.stage, length_us=task.estimate_minutes * MINUTE_US)
        for task in tasks
        if not task.unattended
    )


def _setting_rows(ground: PriceGround) -> tuple[str, tuple[PriceRow, ...]]:
    trade, currency = ground.trade, ground.shop.currency
    scheme = "on" if trade.margin_scheme else "off"
    return "Trading settings", (
        PriceRow("risk reserve", show_percent(trade.risk_reserve_per_10000)),
        PriceRow("margin wanted", show_money(trade.wanted_margin_minor, currency)),
        PriceRow("margin scheme", f"{scheme}, {show_percent(trade.margin_tax_per_10000)}"),
    )


def _reserve_rows(ground: PriceGround) -> tuple[str, tuple[PriceRow, ...]]:
    """The returns that the reserve goes by, else the setting."""
    returns = ground.returns
    if returns.reserve_per_10000 is None or returns.rate is None:
        return _setting_rows(ground)
    rate = returns.rate
    return "Risk reserve, by the shop's own returns", (
        PriceRow("sales that had time to come back", str(returns.sales)),
        PriceRow("came back", f"{rate.events}, {rate_words(rate)}"),
        PriceRow("a return takes of its price", show_percent(returns.lost_per_10000)),
        PriceRow("reserve: the upper end of that", show_percent(returns.reserve_per_10000)),
        *(
            PriceRow(f"{one.tag} {one.model}", "lost", -one.lost_minor, unit_id=one.unit_id)
            for one in returns.back
        ),
    )


_ROWS = {
    FEES: _fee_rows,
    CONSUMABLES: _consumable_rows,
    TIME: _time_rows,
    RESERVE: _reserve_rows,
    MARGIN: _setting_rows,
    TAX: _setting_rows,
}
