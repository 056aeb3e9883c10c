"""Money as whole minor units of one ISO 4217 currency: read, shown and shared out to the last unit."""

import re
from collections.abc import Sequence

from bench.domain.text import quoted
from bench.errors import BadInput

MOST_MINOR = 10**15

# ISO 4217 list one: every code not named here has two minor digits.
_NO_DIGITS = frozenset(
    [
        "BIF",
        "CLP",
        "DJF",
        "GNF",
        "ISK",
        "JPY",
        "KMF",
        "KRW",
        "PYG",
        "RWF",
        "UGX",
        "UYI",
        "VND",
        "VUV",
        "XAF",
        "XOF",
        "XPF",
    ]
)
_THREE_DIGITS = frozenset(["BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"])
_FOUR_DIGITS = frozenset(["CLF", "UYW"])
# Metals, units of account and codes for tests: no minor unit at all, so nothing a price can be in.
_NOT_FOR_PRICES = frozenset(
    ["XAG", "XAU", "XBA", "XBB", "XBC", "XBD", "XDR", "XPD", "XPT", "XSU", "XTS", "XUA", "XXX"]
)

_CODE = re.compile(r"[A-Z]{3}")
_GROUPS = re.compile(r"[0-9]{1,3}(?:([ '’.,])[0-9]{3})(?:\1[0-9]{3})*")
_AMOUNT = re.compile(r"([0-9][0-9 '’.,]*?)(?:([.,])([0-9]*))?")


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
    digits = minor_digits(currency)
    whole, fraction = divmod(abs(minor), 10**digits)
    sign = "-" if minor < 0 else ""
    decimals = f".{fraction:0{digits}}" if digits else ""
    return f"{sign}{whole}{decimals} {currency}"


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
    number = " ".join(text.split())
    if number.startswith(currency):
        number = number.removeprefix(currency)
    else:
        number = number.removesuffix(currency)
    return number.strip()


def _whole_and_fraction(number: str, digits: int, text: str) -> tuple[str, str]:
    """The digits before and after the decimal sign."""
    if number.startswith(("-", "−")):
        raise BadInput(f"{quoted(text)} is negative.", "Give an amount of 0 or more.")
    if number.isascii() and number.isdigit():
        return _short(number, text), ""
    grouped = _GROUPS.fullmatch(number)
    if grouped and grouped[1] in ".," and number.count(grouped[1]) == 1:
        return _one_separator(number, grouped[1], digits, text)
    if grouped:
        return _short(_digits_of(number), text), ""
    found = re.fullmatch(r"(.*)([.,])([0-9]+)", number)
    if found is None or not _is_whole_part(found[1], found[2]):
        raise BadInput(f"{quoted(text)} is not an amount of money.", "Write a number, such as 1200 or 12.50.")
    return _short(_digits_of(found[1]), text), found[3]


def _one_separator(number: str, separator: str, digits: int, text: str) -> tuple[str, str]:
    """Digits parted once, three of them behind: decimals only where nobody could mean thousands."""
    whole, _, fraction = number.partition(separator)
    if not whole.strip("0") or (separator == "." and digits >= len(fraction)):
        return whole, fraction
    raise BadInput(
        f"{quoted(text)} may mean {whole}{fraction} or {whole}.{fraction}.",
        f"Write {whole}{fraction} for the first.",
    )


def _is_whole_part(whole: str, decimal_sign: str) -> bool:
    grouped = _GROUPS.fullmatch(whole)
    return (whole.isascii() and whole.isdigit()) or (grouped is not None and grouped[1] != decimal_sign)


def _digits_of(grouped: str) -> str:
    return "".join(c for c in grouped if c in "0123456789")


def _short(digits: str, text: str) -> str:
    if len(digits) > 20:
        raise BadInput(f"{quoted(text)} is more than this program counts.", "Look for a slip.")
    return digits
