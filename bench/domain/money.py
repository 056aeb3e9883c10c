"""Money as whole minor units of one ISO 4217 currency: read, shown and shared out to the last unit."""

import re
from collections.abc import Sequence

from bench.domain.text import quoted
from bench.errors import BadInput

MOST_MINOR = 10**15
LONGEST = 30

# ISO 4217 list one: every code not named here has two minor digits.
_FRANCS = frozenset({"BIF", "DJF", "GNF", "KMF", "RWF", "XAF", "XOF", "XPF"})
_NO_DIGITS = _FRANCS | {"CLP", "ISK", "JPY", "KRW", "PYG", "UGX", "UYI", "VND", "VUV"}
_THREE_DIGITS = frozenset(["BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"])
_FOUR_DIGITS = frozenset(["CLF", "UYW"])
# Metals, units of account and codes for tests: no minor unit at all, so nothing a price can be in.
_NOT_FOR_PRICES = frozenset(
    ["XAG", "XAU", "XBA", "XBB", "XBC", "XBD", "XDR", "XPD", "XPT", "XSU", "XTS", "XUA", "XXX"]
)

_CODE = re.compile(r"[A-Z]{3}")
_AMOUNT = re.compile(
    r"(?P<whole>[0-9]{1,3}(?P<group>[ '’.,])[0-9]{3}(?:(?P=group)[0-9]{3})*|[0-9]+)"
    r"(?:(?P<point>[.,])(?P<fraction>[0-9]+))?"
)


def minor_digits(code: str) -> int:
    """How many decimals the currency has (ISO 4217); BadInput for what is not three capital letters."""
    if not _CODE.fullmatch(code) or code in _NOT_FOR_PRICES:
        raise BadInput(f"{quoted(code)} is not a currency.", "Give its three capital letters, such as EUR.")
    if code in _NO_DIGITS:
        return 0
    if code in _THREE_DIGITS:
        return 3
    return 4 if code in _FOUR_DIGITS else 2


def read_money(text: str, currency: str) -> int:
    """Minor units from 12, 12.50, 12,50, 1 200.00, 1,200.00 or 1.200,00, with or without the currency's code.

    Where a single point or comma could part thousands as well as decimals (1,200), BadInput asks.
    """
    digits = minor_digits(currency)
    whole, fraction = _whole_and_fraction(_number_in(text, currency), digits, text)
    if len(fraction) > digits:
        most = f"at most {digits} decimals" if digits else "no decimals"
        raise BadInput(f"{quoted(text)} has too many decimals: {currency} has {most}.", "Round it.")
    minor = int(whole + fraction.ljust(digits, "0"))
    if minor > MOST_MINOR:
        raise BadInput(f"{quoted(text)} is more than this program counts.", "Look for a slip.")
    return minor


def show_money(minor: int, currency: str) -> str:
    """The amount with all its decimals and the code, such as 12.50 EUR."""
    return f"{plain_money(minor, currency)} {currency}"


def plain_money(minor: int, currency: str) -> str:
    """The amount alone with all its decimals, such as 12.50."""
    digits = minor_digits(currency)
    whole, fraction = divmod(abs(minor), 10**digits)
    sign = "-" if minor < 0 else ""
    decimals = f".{fraction:0{digits}}" if digits else ""
    return f"{sign}{whole}{decimals}"


NOT_TYPED = "not typed"


def money_or(minor: int | None, currency: str, unknown: str = "") -> str:
    """The amount as show_money has it, or other words where it is not known."""
    return unknown if minor is None else show_money(minor, currency)


def at_least(minor: int, currency: str, *, known: bool = True) -> str:
    """The amount; where something it sums was not typed, that it is at least as much."""
    return show_money(minor, currency) if known else f"at least {show_money(minor, currency)}"


def at_most(minor: int, currency: str, *, known: bool = True) -> str:
    """The amount; where a cost it is less by was not typed, that it is at most as much."""
    return show_money(minor, currency) if known else f"at most {show_money(minor, currency)}"


def share(total_minor: int, weights: Sequence[int]) -> tuple[int, ...]:
    """The total shared out in proportion to the weights, adding up exactly.

    Largest remainder: each gets its whole minor units, the units left over go one each to the largest
    remainders, of equal ones to the earlier. A negative total is shared as its opposite would be.
    """
    whole = sum(weights)
    if whole <= 0 or min(weights) < 0:
        raise BadInput("There is nothing to share by.", "Give weights of 0 or more, at least one above 0.")
    parts = [abs(total_minor) * weight // whole for weight in weights]
    remainders = [abs(total_minor) * weight % whole for weight in weights]
    by_remainder = sorted(range(len(weights)), key=lambda i: -remainders[i])
    for i in by_remainder[: abs(total_minor) - sum(parts)]:
        parts[i] += 1
    return tuple(-part for part in parts) if total_minor < 0 else tuple(parts)


def _number_in(text: str, currency: str) -> str:
    """What was typed without the currency's code, before or behind; blanks of any kind become plain ones."""
    number = " ".join(text.split())
    return re.sub(f"^{currency}|{currency}$", "", number, count=1, flags=re.IGNORECASE).strip()


def _whole_and_fraction(number: str, digits: int, text: str) -> tuple[str, str]:
    """The digits before and after the decimal sign."""
    if number.startswith(("-", "−")):
        raise BadInput(f"{quoted(text)} is negative.", "Give an amount of 0 or more.")
    found = _AMOUNT.fullmatch(number) if len(number) <= LONGEST else None
    if found is None or (found["point"] is not None and found["point"] == found["group"]):
        raise BadInput(f"{quoted(text)} is not an amount of money.", "Write a number, such as 1200 or 12.50.")
    if found["point"] is None and found["group"] in (".", ",") and number.count(found["group"]) == 1:
        return _parted_once(number, found["group"], digits, text)
    return re.sub("[^0-9]", "", found["whole"]), found["fraction"] or ""


def _parted_once(number: str, sign: str, digits: int, text: str) -> tuple[str, str]:
    """Digits parted once, three of them behind: decimals only where nobody could mean thousands."""
    before, _, behind = number.partition(sign)
    if before.strip("0") and not (sign == "." and digits >= len(behind)):
        raise BadInput(
            f"{quoted(text)} may mean {before}{behind} or {before}.{behind}.",
            f"Write {before}{behind} if you mean that.",
        )
    return before, behind
