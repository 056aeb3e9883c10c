"""What a file must answer by command after one unit's bad life; sums are by hand."""

from __future__ import annotations

from tests.pty.at_the_bench import FIRST, SECOND
from tests.pty.bad_life import BREAKER, CAUSE, LEAD, MENDED, SHORTED, SHUTDOWN, SUPPLIER
from tests.pty.program import did

Environment = dict[str, str]

MINUTE_US = 60_000_000


def asked_by_command(env: Environment) -> None:
    """The same questions as JSON."""
    who_broke_what_and_what_that_cost(env)
    whether_the_supplier_repaid(env)
    how_long_it_ran_and_what_was_diagnosed(env)
    how_to_treat_the_next_of_this_model(env)
    unit_month_and_register_agree(env)


def who_broke_what_and_what_that_cost(env: Environment) -> None:
    """The slip: both fans less the refund, 17 + 15 - 12, and 20 minutes at 30.00 an hour: 20.00 + 10.00."""
    slip = did(env, "fault", "f1", "--json").json()
    told = tuple(slip["fault"][name] for name in ("symptom", "origin", "person", "cause", "state"))
    assert told == (LEAD, "ours", "Ada", CAUSE, "cured")
    assert (slip["cost"]["parts_minor"], slip["cost"]["hours_minutes"], slip["cost_minor"]) == (
        2000,
        20,
        3000,
    )
    behind = {
        (one["what"], one["words"]): one["amount_minor"] for one in slip["rows"] if one["what"] != "task"
    }
    assert behind == {
        ("part", "fan"): 1700,
        ("order", "fan, refunded"): 300,  # 12 and 3, less 12
        ("order", "fan, arrived"): None,
    }
    report = did(env, "fault", "--by", "origin", "--json").json()
    names = ("faults", "open", "hours_minutes", "parts_minor", "cost_minor")
    assert {one["name"]: tuple(one[name] for name in names) for one in report["groups"]} == {
        "our own slip": (1, 0, 20, 2000, 3000),
        "was there before": (1, 0, 0, 5000, 5000),  # the board, 45 and 5
    }
    assert report["total"]["cost_minor"] == 8000  # 30.00 + 50.00


def whether_the_supplier_repaid(env: Environment) -> None:
    """Dunmere: 12 + 3 + 14 + 3 = 32.00 paid, 12.00 back, the freight of 3.00 not asked for; 0 owed."""
    names = ("orders", "faulty", "spent_minor", "refunded_minor", "owed_minor")
    found = did(env, "suppliers", "--json").json()
    assert {one["supplier"]: tuple(one[name] for name in names) for one in found["lines"]} == {
        SUPPLIER: (2, 1, 3200, 1200, 0),
        BREAKER: (1, 0, 5000, 0, 0),  # 45 + 5
    }
    assert found["owed_minor"] == 0
    orders = did(env, "order", FIRST, "--settled", "--json").json()["lines"]
    told = [(one["what"], one["state"], one["found"], one["refund_minor"], one["standing"]) for one in orders]
    assert sorted(told) == [
        ("board", "arrived", "", 0, f"fitted in {FIRST}"),
        ("fan", "arrived", "", 0, f"fitted in {FIRST}"),
        ("fan", "refunded", "wrong", 1200, "refunded"),
    ]


def how_long_it_ran_and_what_was_diagnosed(env: Environment) -> None:
    """It died after 42 minutes at 98 °C; mended, it ran three hours, and an hour after it came back."""
    found = did(env, "fault", FIRST, "--json").json()
    assert did(env, "test", FIRST, "--json").json()["outcomes"] == found["outcomes"]
    ran = [
        (one["outcome"], one["ran_us"], one["figures"]["hottest_tenths_c"], one["fault_id"])
        for one in reversed(found["outcomes"])
    ]
    assert ran == [
        ("failed", 42 * MINUTE_US, 980, 2),
        ("passed", 180 * MINUTE_US, 810, None),
        ("passed", 60 * MINUTE_US, 800, None),
    ]
    board = did(env, "fault", "f2", "--json").json()["fault"]
    told = tuple(board[name] for name in ("symptom", "origin", "cause", "state", "closing_test"))
    assert told == (SHUTDOWN, "before", SHORTED, "cured", "soak")
    # 1 of 1 failed at first: Clopper and Pearson's interval at 95 % is 0.025 (the half of 5 %) to 1.
    (soak,) = did(env, "return-rates", "--json").json()["tests"]
    assert (soak["kind"], soak["rate"]["events"], soak["rate"]["trials"]) == ("soak", 1, 1)
    assert (soak["rate"]["low_per_10000"], soak["rate"]["high_per_10000"]) == (250, 10000)


def how_to_treat_the_next_of_this_model(env: Environment) -> None:
    """Asked of the unit that is still here: the page is the model's."""
    page = did(env, "model", SECOND, "--json").json()
    known = {one["symptom"]: (one["cause"], one["done"], one["state"]) for one in page["faults"]}
    assert known == {LEAD: (CAUSE, MENDED, "cured"), SHUTDOWN: (SHORTED, "Soak test passed", "cured")}
    parts = {one["name"]: (one["cost_minor"], one["supplier"]) for one in page["parts"]}
    assert parts == {"fan": (1700, SUPPLIER), "board": (5000, BREAKER)}
    assert (page["here"], page["sold"], page["returned"]) == (1, 1, 1)
    (looked,) = page["hours"]
    assert "look over" in str(looked)
    assert [sale["net_minor"] for sale in page["fetched"]["sales"]] == [28000]  # the undone sale is none


def unit_month_and_register_agree(env: Environment) -> None:
    unit, other = (did(env, "money", tag, "--json").json() for tag in (FIRST, SECOND))
    cost_so_far = {line["words"]: line["amount_minor"] for line in unit["cost_so_far"]}
    assert cost_so_far == {
        "price paid": 10000,
        "parts bought": 6700,  # fan 14 + 3, board 45 + 5
        "parts out of other units": 2000,
        "parts given away": -800,
        "parts paid for and gone": 1500,  # the wrong fan, 12 + 3
        "refunds of parts": -1200,
    }
    sums = ("cost_so_far_minor", "proceeds_minor", "labour_minor", "margin_minor", "per_hour_minor")
    # 300 - 7 - 300 - 9 + 280 - 7 = 257; 20 min at 30.00; 257 - 182 = 75; 75 in a third of an hour is 225
    assert tuple(unit[name] for name in sums) == (18200, 25700, 1000, 7500, 22500)
    assert other["cost_so_far_minor"] == 4800  # 60 - 20 + 8

    month = did(env, "month", "--json").json()
    lines = {line["words"]: line["amount_minor"] for line in month["lines"]}
    assert lines == {
        "prices": 58000,  # 300 + 280
        "refunds": -30000,
        "shipping": -1400,  # 7 + 7
        "return postage": -900,
        "paid for the units": -10000,
        "parts in less parts out": -7900,  # 67 + 20 - 8
        "parts paid for and gone, less refunds": -300,  # 15 - 12
    }
    assert sum(lines.values()) == month["total"]["margin_minor"] == unit["margin_minor"] == 7500
    assert month["tied_up_minor"] == other["cost_so_far_minor"] == 4800
    assert (month["total"]["units"], month["returns"], month["refunds_minor"]) == (1, 1, 30000)

    register = did(env, "register", "--json").json()
    columns = ("state", "tag", "buyer", "purchase_minor", "price_minor", "refund_minor", "margin_minor")
    assert [tuple(line[name] for name in columns) for line in register["lines"]] == [
        ("came back", FIRST, "A. Buyer", 10000, 30000, 30000, None),
        ("sold", FIRST, "B. Buyer", 10000, 28000, None, 18000),  # 280 - 100
        ("in stock", SECOND, "", 6000, None, None, None),
    ]
    totals = ("purchases_minor", "sales_minor", "refunds_minor", "margins_minor", "taxes_minor")
    assert tuple(register[name] for name in totals) == (16000, 58000, 30000, 18000, 0)
    # From the register's margin to the unit's: less both shippings, the postage and the parts.
    assert register["margins_minor"] - 1400 - 900 - 7900 - 300 == unit["margin_minor"]
    # Cash: 580 - 300 - 14 - 9, 160 for both, 82 to suppliers, 12 back: 27 = 75 less the 48 left.
    cash = 58000 - 30000 - 1400 - 900 - 16000 - 3200 - 5000 + 1200
    assert cash == unit["margin_minor"] - other["cost_so_far_minor"] == 2700
