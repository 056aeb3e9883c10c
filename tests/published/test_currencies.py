"""Minor digits of every currency in force.

Source: ISO 4217 list one, published 2026-01-01 by the standard's maintenance agency, read from the XML file
in the package iso4217 1.16.20260101. Tolerance: none.
"""

import pytest

from bench.domain.money import minor_digits, read_money, show_money
from bench.errors import BadInput

LIST_ONE = {
    0: "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF",
    2: "AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BOV BRL BSD BTN BWP BYN BZD CAD CDF "
    "CHE CHF CHW CNY COP COU CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD "
    "GTQ GYD HKD HNL HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL "
    "MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MXV MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR "
    "PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP "
    "TRY TTD TWD TZS UAH USD USN UYU UZS VED VES WST XAD XCD XCG YER ZAR ZMW ZWG",
    3: "BHD IQD JOD KWD LYD OMR TND",
    4: "CLF UYW",
}
NO_MINOR_UNIT = "XAG XAU XBA XBB XBC XBD XDR XPD XPT XSU XTS XUA XXX"


@pytest.mark.parametrize("digits", LIST_ONE)
def test_minor_digits_of_list_one(digits):
    assert {code: minor_digits(code) for code in LIST_ONE[digits].split()} == dict.fromkeys(
        LIST_ONE[digits].split(), digits
    )


def test_codes_without_a_minor_unit_are_no_money_of_a_shop():
    for code in NO_MINOR_UNIT.split():
        with pytest.raises(BadInput, match=code):
            minor_digits(code)


@pytest.mark.parametrize(
    ("minor", "currency", "shown"),
    [
        (1250, "EUR", "12.50 EUR"),
        (1250, "JPY", "1250 JPY"),
        (1250, "KWD", "1.250 KWD"),
        (1250, "CLF", "0.1250 CLF"),
    ],
)
def test_an_amount_is_shown_with_the_digits_of_its_currency(minor, currency, shown):
    assert show_money(minor, currency) == shown
    assert read_money(shown, currency) == minor
