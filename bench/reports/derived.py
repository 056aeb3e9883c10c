"""What documents tell of a record besides its fields, by the record's name: sums, and what is known of them.

A sum of which something was not typed is not told as a sum: its key is null, and `_at_least` or `_at_most`
beside it has what is known.
"""

from __future__ import annotations

from typing import Any, NamedTuple


class Derived(NamedTuple):
    """An attribute's value; null where `unless` names one that says something, or `when` one that is false.

    `says_none`: instead, whether the attribute says nothing.
    """

    attribute: str
    unless: str = ""
    when: str = ""
    says_none: bool = False

    def of(self, record: Any) -> Any:
        """What is told of the record."""
        if (self.unless and getattr(record, self.unless)) or (self.when and not getattr(record, self.when)):
            return None
        value = getattr(record, self.attribute)
        return not value if self.says_none else value


_FAULT_SHEET = {"cost_minor": Derived("cost_minor")}
_EARNED = {
    "margin_minor": Derived("margin_minor", unless="incomplete"),
    "margin_at_most_minor": Derived("margin_minor"),
    "per_hour_minor": Derived("per_hour_minor", unless="incomplete"),
    "per_spent_hour_minor": Derived("per_spent_hour_minor", unless="incomplete"),
}
_SOLD_UNIT = {
    "margin_minor": Derived("margin_minor", unless="missing"),
    "margin_at_most_minor": Derived("margin_minor"),
    "per_hour_minor": Derived("per_hour_minor", unless="missing"),
}
_USED_UP = {
    "per_unit_thousandths": Derived("per_unit"),
    "cost_per_unit_minor": Derived("cost_per_unit_minor"),
}
_MONTH_SHEET = {
    "result_minor": Derived("result_minor", unless="missing"),
    "general_minor": Derived("general_minor"),
    "after_general_minor": Derived("after_general_minor", unless="missing"),
    "tied_up_minor": Derived("tied_up_minor", when="tied_up_known"),
    "tied_up_at_least_minor": Derived("tied_up_minor"),
    "used_minor": Derived("used_minor"),
    "used_per_unit_minor": Derived("used_per_unit_minor"),
    "complete": Derived("complete"),
    "missing": Derived("missing"),
}
_WEEK_SHEET = {
    "hands_on_us": Derived("hands_on_us"),
    "machine_us": Derived("machine_us"),
    "earned": Derived("earned"),
}
_REGISTER = {
    "purchases_minor": Derived("purchases_minor", unless="unpriced"),
    "purchases_at_least_minor": Derived("purchases_minor"),
    "sales_minor": Derived("sales_minor"),
    "refunds_minor": Derived("refunds_minor"),
    "margins_minor": Derived("margins_minor", unless="unpriced"),
    "taxes_minor": Derived("taxes_minor"),
    "complete": Derived("unpriced", says_none=True),
    "missing": Derived("unpriced"),
}
_UNIT_MONEY = {
    "complete": Derived("complete"),
    "missing": Derived("missing"),
    "cost_so_far_minor": Derived("cost_so_far_minor", when="cost_so_far_known"),
    "cost_so_far_at_least_minor": Derived("cost_so_far_minor"),
    "break_even_minor": Derived("break_even_minor", when="complete"),
    "break_even_at_least_minor": Derived("break_even_minor"),
    "proceeds_minor": Derived("proceeds_minor", when="proceeds_known"),
    "labour_minor": Derived("labour_minor"),
    "margin_minor": Derived("margin_minor", unless="missing"),
    "margin_at_most_minor": Derived("margin_minor"),
    "lost_minor": Derived("lost_minor", unless="missing"),
    "per_hour_minor": Derived("per_hour_minor", unless="missing"),
}
_NEXT_LINE = {
    "complete": Derived("complete"),
    "missing": Derived("missing"),
    "to_earn_minor": Derived("to_earn_minor", when="complete"),
    "to_earn_at_most_minor": Derived("to_earn_minor", when="expectation_known"),
    "per_hour_minor": Derived("per_hour_minor", when="complete"),
}

DERIVED: dict[str, dict[str, Derived]] = {
    "Earned": _EARNED,
    "SoldUnit": _SOLD_UNIT,
    "UsedUp": _USED_UP,
    "MonthSheet": _MONTH_SHEET,
    "WeekSheet": _WEEK_SHEET,
    "Register": _REGISTER,
    "UnitMoney": _UNIT_MONEY,
    "NextLine": _NEXT_LINE,
    "FaultSheet": _FAULT_SHEET,
    "MoneyRows": {"amount_minor": Derived("amount_minor")},
    "Spent": {"over_us": Derived("over_us"), "over_minor": Derived("over_minor")},
    "RepairLine": {"unit": Derived("unit")},
    "ExpenseLine": {"tax_minor": Derived("tax_minor")},
    "ExpenseBook": {"total_minor": Derived("total_minor")},
    "PriceSheet": {"over_minor": Derived("over_minor")},
    "Way": {name: Derived(name) for name in ("cash_minor", "per_hour_minor", "missing")},
    "ThreeWays": {"words": Derived("words")},
    "OwnPrices": {
        name: Derived(name) for name in ("suggested_minor", "week_costs_minor", "words", "fall_words")
    },
    "OrderLine": {"cost_minor": Derived("cost_minor"), "standing": Derived("standing")},
    "SupplierBook": {"owed_minor": Derived("owed_minor")},
    "Shelf": {"cost_minor": Derived("cost_minor")},
    "Little": {"expected_in_queue": Derived("expected_in_queue")},
    "DriveLine": {"wiped": Derived("wiped")},
    "DriveSheet": {"may_be_listed": Derived("may_be_listed")},
    "ConditionSheet": {"not_measured": Derived("not_measured")},
    "HandOver": {"shipping": Derived("shipping")},
    "BuyerSheet": {name: Derived(name) for name in ("before_after", "found", "known_faults", "not_tested")},
}
