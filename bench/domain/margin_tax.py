"""Tax on the margin of second-hand goods, where the shop has turned it on. Not advice: ask a tax adviser.

Council Directive 2006/112/EC, Title XII, chapter 4, as amended; looked at on 2026-11-26, read unless marked:
312  defines selling price and purchase price (unverified)
313  has member states tax the profit margin of a dealer in second-hand goods
314  names from whom the goods must have come: no taxable person, one whose supply was exempt, a small
     enterprise's capital goods, another dealer under the scheme
315  makes the taxable amount the margin, selling price less purchase price, less the tax in it
316  lets a dealer opt in works of art, collectors' items and antiques (unverified)
317  sends what was opted in back to 315, imported goods with their value on importation: no laptops
318  lets member states tax the total margin of a period (unverified): not done here, where each sale is alone
"""

from __future__ import annotations

from bench.errors import BadInput

PER = 10_000


def margin_tax_minor(purchase_minor: int, sale_minor: int, rate_per_10000: int) -> int:
    """Tax contained in the margin, in minor units; halves are rounded up.

    margin = sale - purchase; tax = margin x r / (1 + r). A loss gives zero and is not set off against
    other sales. The purchase price takes no other costs in.
    Source: Directive 2006/112/EC, Article 315; UK HMRC VAT Notice 718 for a loss.
    """
    if not 0 <= rate_per_10000 <= PER:
        raise BadInput("The tax rate lies outside 0 to 100 %.", "Give a rate such as 20.")
    margin = max(0, sale_minor - purchase_minor)
    divisor = PER + rate_per_10000
    return (2 * margin * rate_per_10000 + divisor) // (2 * divisor)


def tax_after_refund_minor(tax_minor: int, purchase_minor: int, sale_minor: int, refund_minor: int) -> int:
    """What is left of a sale's tax after a refund, in minor units, halves up.

    The refund lowers the price and so the margin; tax is in proportion to the margin, whatever the rate
    was. Nothing is left once the margin is gone. Source: EU Directive 2006/112/EC, Article 90 (the taxable
    amount is reduced on cancellation, refusal or price reduction; unverified) with Article 315.
    """
    margin = sale_minor - purchase_minor
    if margin <= 0:
        return 0
    left = max(0, margin - refund_minor)
    return (2 * tax_minor * left + margin) // (2 * margin)
