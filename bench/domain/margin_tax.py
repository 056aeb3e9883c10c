"""Tax on the margin of second-hand goods, where the shop has turned it on. Not advice: ask a tax adviser."""

from __future__ import annotations

from bench.errors import BadInput

PER = 10_000


def margin_tax_minor(purchase_minor: int, sale_minor: int, rate_per_10000: int) -> int:
    """Tax contained in the margin, in minor units; halves are rounded up.

    margin = sale - purchase; tax = margin x r / (1 + r). A loss gives zero and is not set off against
    other sales. The purchase price takes no other costs in.
    Source: EU Directive 2006/112/EC, Articles 315 and 317; UK HMRC VAT Notice 718.
    """
    if not 0 <= rate_per_10000 <= PER:
        raise BadInput("The tax rate lies outside 0 to 100 %.", "Give a rate such as 20.")
    margin = max(0, sale_minor - purchase_minor)
    divisor = PER + rate_per_10000
    return (2 * margin * rate_per_10000 + divisor) // (2 * divisor)
