"""The demo's sales and returns as rows."""

from __future__ import annotations

from dataclasses import dataclass, field

from bench.domain.margin_tax import margin_tax_minor
from bench.domain.selling import warranty_until
from bench.domain.unit_money import fee_minor
from bench.domain.ways_out import HANDED_BACK, SCRAPPED, SOLD
from bench.domain.weeks import local_day
from bench.store.demo_trade import DemoSale
from bench.store.tables import Comeback, Sale, UnitListing, WayOut
from bench.work.demo.ground import Ground, numbered
from bench.work.demo.moves import REPAIRED
from bench.work.demo.story import Moment, Moments

FIRST_INVOICE = 100


@dataclass
class SaleRows:
    """Sales, numbered in the order in which they were made, and returns. The moves tell of them."""

    sales: list[Sale] = field(default_factory=list)
    comebacks: list[Comeback] = field(default_factory=list)
    ways_out: list[WayOut] = field(default_factory=list)
    listings: list[UnitListing] = field(default_factory=list)


def sale_rows(ground: Ground, moments: Moments) -> SaleRows:
    """Rows of all sales and returns, and of what listings ask."""
    rows = SaleRows()
    for number, one in ground.demo.trade.sales.items():
        rows.sales.append(_sale(ground, one, moments.left[number]))
    rows.sales.sort(key=lambda sale: sale.sold_us)
    for number, sale in enumerate(rows.sales, start=1):
        sale.id, sale.invoice = number, f"S-{FIRST_INVOICE + number}"
    sold = {sale.unit_id: sale for sale in rows.sales}
    for number, back in ground.demo.trade.comebacks.items():
        moment, sale = moments.back(number), sold[ground.unit_ids[number]]
        refund = ground.terms.money(back["refund"])
        rows.comebacks.append(
            Comeback(
                sale_id=numbered(sale.id),
                at_us=moment.at_us,
                person_id=ground.people[moment.who],
                reason=back["reason"],
                refund_minor=refund,
                fee_back_minor=ground.terms.money(back["fee_back"]),
                postage_minor=ground.terms.money(back["postage"]),
                undoes=int(refund > 0 and refund == sale.price_minor),
            )
        )
    rows.ways_out += [_way_out(ground, moments, number) for number in moments.left]
    rows.listings += [
        UnitListing(unit_id=ground.unit_ids[number], price_minor=ground.terms.money(price))
        for number, price in ground.demo.trade.asked.items()
    ]
    return rows


def _way_out(ground: Ground, moments: Moments, number: int) -> WayOut:
    trade, terms, moment = ground.demo.trade, ground.terms, moments.left[number]
    row = WayOut(
        unit_id=ground.unit_ids[number],
        way=SOLD,
        at_us=moment.at_us,
        person_id=ground.people[moment.who],
        ended_us=moments.back(number).at_us if number in trade.comebacks else None,
    )
    if number in trade.owners:
        row.way, row.note, row.price_minor = HANDED_BACK, REPAIRED, terms.money(trade.owners[number][1])
    if number in trade.scrapped:
        scrap = trade.scrapped[number]
        row.way, row.note, row.proceeds_minor = SCRAPPED, scrap["reason"], terms.money(scrap["proceeds"])
    return row


def _sale(ground: Ground, one: DemoSale, moment: Moment) -> Sale:
    terms, trade = ground.terms, ground.terms.trade
    channel, price = terms.channels[one.channel], terms.money(one.price)
    paid = terms.prices[one.unit] or 0
    sold_on = local_day(moment.at_us, ground.demo.zone)
    until = warranty_until(sold_on, trade.warranty_days)
    tax = margin_tax_minor(paid, price, trade.margin_tax_per_10000) if trade.margin_scheme else 0
    return Sale(
        unit_id=ground.unit_ids[one.unit],
        party_id=terms.parties[one.buyer] if one.buyer else None,
        channel_id=channel.id,
        sold_on=sold_on.isoformat(),
        sold_us=moment.at_us,
        person_id=ground.people[moment.who],
        price_minor=price,
        fee_minor=fee_minor(price, channel.fee_per_10000, channel.fee_fixed_minor),
        shipping_minor=terms.money(one.shipping),
        shipping_known=int(bool(one.shipping)),
        tax_minor=tax,
        warranty_until=until.isoformat() if until else None,
        note=one.note,
    )
