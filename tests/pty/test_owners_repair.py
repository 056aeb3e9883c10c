"""An owner's machine in the real program, from the counter to its bill; then a unit of the shop's scrapped.

Worked out by hand, in EUR. The owner's machine, tax 20 % where nothing else is said:
                                           net           at 20 %    at 10 %
  fan, one for 34.95                      34.95           34.95
  fitting it, 90 min at 42.00 an hour     63.00           63.00               42.00 × 1.5
  recycling, 12.35 at 10 %                12.35                      12.35
  allowance for waiting, 5.00             -5.00           -5.00
  the quote                              105.30           92.95      12.35
    its tax, 18.59 + 1.24                 19.83           18.59       1.24    1.235, a half upwards
    its total                            125.13                               105.30 + 19.83
  beyond it: thermal pads, 4.15            4.15            4.15
  the bill                               109.45           97.10      12.35
    its tax, 19.42 + 1.24                 20.66           19.42       1.24
    its total                            130.11                               109.45 + 20.66
  The repair took a fan for 21.40, of 34.95 quoted, and less time than the 90 minutes quoted.
The shop's own unit: paid 47.50, a battery for 8.25: cost 55.75; scrap brought 6.30, so 49.45 are lost.
The month: 109.45 of repairs - 21.40 for them - 55.75 scrapped + 6.30 of scrap = 38.60.

Tax is rounded once for each rate: EN 16931-1, BR-CO-14 and BR-CO-17 (from memory).
"""

from __future__ import annotations

import time
from datetime import date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from bench.work.files import open_or_new
from tests.pty.at_the_bench import ENTER, FIRST, SECOND, TAB, set_up_later, zone_where_it_is_noon
from tests.pty.counter import Counter
from tests.pty.program import did, environment
from tests.pty.terminal import Terminal, screen_environment
from tests.pty.trading import MONTHS

OWNER, SERIAL = "Odile Varnham", "HZ-1"
TASK = "look over and note faults"
SECOND_US = 1_000_000
MONTH = {
    "repairs of owners' machines": 10945,
    "parts, consumables of repairs": -2140,
    "scrapped, cost lost": -5575,
    "proceeds of scrap": 630,
}
RESULT = 3860


@pytest.fixture
def zone() -> str:
    return zone_where_it_is_noon()


@pytest.fixture
def data(tmp_path: Path, zone: str) -> str:
    path = tmp_path / "shop.bench"
    open_or_new(path, person="Ada", zone=zone).close()
    return str(path)


def test_an_owners_machine_is_mended_and_a_unit_scrapped(tmp_path: Path, data: str, zone: str) -> None:
    env = environment(tmp_path, BENCH_DATA=data)
    settings = tmp_path / "settings.toml"
    settings.write_text("scanner = false\n", encoding="utf-8")
    screen = screen_environment(tmp_path, BENCH_DATA=data, BENCH_SETTINGS=str(settings))
    today = datetime.now(ZoneInfo(zone)).date()
    with Terminal([], screen, size="120x36") as terminal:
        set_up_later(terminal)
        counter = Counter(terminal, tmp_path)
        brought_in(counter, today)
        worked_s = mended(counter)
        given_back(counter)
        scrapped(counter)
        month_tells(counter)
        terminal.send("q")
        assert terminal.wait_end() == 0
    repair_is_told(env, today, worked_s)
    money_is_told(env)


def brought_in(counter: Counter, today: date) -> None:
    """Taken in, looked at, quoted, accepted."""
    counter.sheet("t", "Trading settings", "Tax on repairs")
    counter.set_repair_tax("20 %")
    counter.home()
    counter.take_in_machine("Hazel", "Twelve", SERIAL, OWNER, FIRST)
    counter.scan(FIRST)
    counter.sheet("j", f"Repair of {FIRST}", "No repair yet")
    counter.take_in_repair("goes off when warm", "charger", "lid scratched", "must be kept")
    counter.diagnose("fan stands still")
    counter.quote_line("fan", "parts", "", "34.95", "", "Net 34.95 EUR, tax 20 % 6.99 EUR")
    counter.quote_line("fitting it", "labour", "90 min", "42", "", "Net 97.95 EUR, tax 20 % 19.59 EUR")
    counter.quote_line("recycling", "other", "", "12.35", "10 %", "tax 10 % 1.24 EUR, tax 20 % 19.59 EUR")
    shown = "Net 105.30 EUR, tax 10 % 1.24 EUR, tax 20 % 18.59 EUR, total 125.13"
    counter.quote_line("for waiting", "allowance", "", "5", "", shown)
    counter.give_quote(today.isoformat(), "90")
    counter.accepted(today.isoformat(), "by phone")
    counter.home()


def mended(counter: Counter) -> float:
    """Timed on a task, and a fan fitted; answers for how many seconds at most the timer ran."""
    begun = time.monotonic()
    counter.start(TASK[:12])
    counter.terminal.send("d")
    counter.terminal.wait_for("Finish the task")
    counter.terminal.send(ENTER)
    counter.terminal.wait_gone("Finish the task", "►")
    ran_s = time.monotonic() - begun
    counter.sheet("p", f"Parts of {FIRST}")
    counter.fit("fan", "21.40")
    counter.home()
    return ran_s


def given_back(counter: Counter) -> None:
    """A line beyond the quote, ready, handed back; the papers."""
    terminal = counter.terminal
    counter.sheet("j", f"Repair of {FIRST}", "hands-on of 1 h 30 quoted, 21.40 EUR at cost of 34.95 EUR")
    shown = "Net 109.45 EUR, tax 10 % 1.24 EUR, tax 20 % 19.42 EUR, total 130.11"
    counter.quote_line("thermal pads", "parts", "", "4.15", "", shown)
    terminal.wait_for("parts, beyond", "Quoted: 125.13 EUR.")
    counter.ready()
    counter.hand_back(FIRST, "repaired")
    terminal.send("p")
    terminal.wait_for("► Hand-back note", "Work done", f"- {TASK}", "130.11 EUR")
    terminal.send(TAB)
    terminal.wait_for("► Quote", "Net                    105.30 EUR", "Total                  125.13 EUR")
    terminal.send(TAB)
    terminal.wait_for(
        "► Bill",
        "Tax 10 % of 12.35 EUR  1.24 EUR",
        "Tax 20 % of 97.10 EUR  19.42 EUR",
        "Total                  130.11 EUR",
    )
    counter.back("Comes to, and took")
    counter.home()


def scrapped(counter: Counter) -> None:
    """A unit of the shop's own, with a part bought for it."""
    counter.take_in_unit("Alder", "Fourteen", "AL-1", "47.50", SECOND)
    counter.scan(SECOND)
    counter.sheet("p", f"Parts of {SECOND}")
    counter.fit("battery", "8.25")
    counter.home()
    counter.scrap(SECOND, "board is wet", "6.30")
    counter.terminal.wait_for("handed back 1, scrapped 1", "55.75 EUR lost, 6.30 EUR for scrap")


def month_tells(counter: Counter) -> None:
    counter.terminal.send(MONTHS)
    counter.terminal.wait_for("Total of what was sold", "result, before labour")
    shown = counter.figures()
    assert {words: shown.get(words) for words in MONTH} == MONTH
    assert (shown["margin, before labour"], shown["result, before labour"]) == (0, RESULT)
    counter.home()


def repair_is_told(env: dict[str, str], today: date, worked_s: float) -> None:
    facts = did(env, "job", FIRST, "--json").json()
    sums = {
        "quote": (10530, 1983, 12513, [(1000, 1235, 124), (2000, 9295, 1859)]),
        "bill": (10945, 2066, 13011, [(1000, 1235, 124), (2000, 9710, 1942)]),
    }
    for name, hand in sums.items():
        paper = did(env, "quote", FIRST, "--paper", name, "--json").json()
        for told in (facts[name], paper["total"]):
            taxes = [(one["tax_per_10000"], one["net_minor"], one["tax_minor"]) for one in told["taxes"]]
            assert (told["net_minor"], told["tax_minor"], told["total_minor"], taxes) == hand, name
    assert [line["net_minor"] for line in facts["lines"]] == [3495, 6300, 1235, -500, 415]
    assert [line["beyond"] for line in facts["lines"]] == [False, False, False, False, True]
    job, day = facts["job"], today.isoformat()
    assert (job["owner"], job["complaint"], job["came_along"]) == (OWNER, "goes off when warm", "charger")
    assert (job["arrival"], job["data_consent"]) == ("lid scratched", "must be kept")
    assert (job["diagnosis"], job["price_minor"]) == ("fan stands still", 13011)
    assert [job[name] for name in ("quoted_on", "answered_on", "ready_on", "collected_on")] == [day] * 4
    assert (job["answer"], job["answered_how"]) == ("accepted", "by phone")
    assert job["warranty_until"] == (today + timedelta(days=90)).isoformat()
    spent, tasks = facts["spent"], did(env, "unit", FIRST, "--json").json()["tasks"]
    assert (spent["cost_minor"], spent["quoted_parts_minor"], spent["quoted_minutes"]) == (2140, 3495, 90)
    assert (spent["over_us"], spent["over_minor"]) == (0, 0)
    assert 0 < spent["hands_on_us"] <= worked_s * SECOND_US
    assert {task["name"]: task["spent_us"] for task in tasks if task["spent_us"]} == {
        TASK: spent["hands_on_us"]
    }


def money_is_told(env: dict[str, str]) -> None:
    month = did(env, "month", "--json").json()
    assert {line["words"]: line["amount_minor"] for line in month["unsold"]} == MONTH
    assert (month["total"]["margin_minor"], month["result_minor"]) == (0, RESULT)
    assert (month["sold"], month["tied_up_minor"], month["complete"]) == ([], 0, True)

    owners, own = (did(env, "money", tag, "--json").json() for tag in (FIRST, SECOND))
    assert (owners["cost_so_far_minor"], owners["proceeds_minor"]) == (2140, 10945)  # 130.11 - 20.66
    brought = {line["words"]: line["amount_minor"] for line in owners["brought"]}
    assert brought == {"price of the repair": 13011, "tax passed on": -2066}
    assert (owners["way"], owners["lost_minor"]) == ("handed back", None)
    assert (own["cost_so_far_minor"], own["proceeds_minor"], own["lost_minor"]) == (5575, 630, 4945)
    assert {line["words"]: line["amount_minor"] for line in own["cost_so_far"]} == {
        "price paid": 4750,
        "parts bought": 825,
    }

    said = did(env, "register", "--json")
    assert not [word for word in (OWNER, SERIAL, FIRST, "Hazel") if word in said.out]
    first, second = said.json()["lines"]  # numbers run with no gap: the owner's has its number and no more
    assert (first["number"], first["state"]) == (1, "an owner's machine, not bought")
    assert (first["purchase_minor"], first["price_minor"]) == (None, None)
    assert (second["tag"], second["state"], second["purchase_minor"]) == (SECOND, "scrapped", 4750)
    assert said.json()["purchases_minor"] == 4750
