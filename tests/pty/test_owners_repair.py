"""x"""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from tests.pty.at_the_bench import FIRST, SECOND
from tests.pty.counter import Counter
from tests.pty.program import did, environment, make_shop
from tests.pty.terminal import Terminal, screen_environment
from tests.pty.trading import MONTHS

ZONE = "Europe/Berlin"
OWNER = "Odile Varnham"


def test_an_owners_machine(tmp_path: Path) -> None:
    data = str(make_shop(tmp_path / "shop.bench"))
    env = environment(tmp_path, BENCH_DATA=data)
    settings = tmp_path / "settings.toml"
    settings.write_text("scanner = false\n", encoding="utf-8")
    screen = screen_environment(tmp_path, BENCH_DATA=data, BENCH_SETTINGS=str(settings))
    today = datetime.now(ZoneInfo(ZONE)).date().isoformat()
    with Terminal([], screen, size="120x36") as terminal:
        terminal.wait_for("The bench is empty")
        at = Counter(terminal, tmp_path)
        at.sheet("t", "Trading settings", "Tax on repairs")
        at.set_repair_tax("20 %")
        at.home()
        at.take_in_machine("Hazel", "Twelve", "HZ-1", OWNER, FIRST)
        at.scan(FIRST)
        at.sheet("j", f"Repair of {FIRST}", "No repair yet")
        at.take_in_repair("goes off when warm", "charger", "lid scratched", "must be kept")
        at.diagnose("fan stands still")
        at.quote_line("fan", "parts", "", "34.95", "", "Net 34.95 EUR, tax 20 % 6.99 EUR")
        at.quote_line("fitting it", "labour", "90 min", "42", "", "Net 97.95 EUR, tax 20 % 19.59 EUR")
        at.quote_line("recycling", "other", "", "12.35", "10 %", "Net 110.30 EUR, tax 10 % 1.24 EUR, tax 20 % 19.59 EUR")
        at.quote_line("for waiting", "allowance", "", "5", "", "Net 105.30 EUR, tax 10 % 1.24 EUR, tax 20 % 18.59 EUR")
        at.give_quote(today, "90")
        at.accepted(today, "by phone")
        at.home()
        at.start("")
        terminal.send("d")
        terminal.wait_for("Finish ")
        print(terminal.text())
        terminal.send("\x13")
        terminal.wait_gone("Finish ")
        at.sheet("p", f"Parts of {FIRST}")
        at.fit("fan", "21.40")
        at.home()
        at.sheet("j", f"Repair of {FIRST}", "21.40 EUR")
        at.quote_line("thermal pads", "parts", "", "4.15", "", "Net 109.45 EUR, tax 10 % 1.24 EUR, tax 20 % 19.42 EUR")
        print(terminal.text())
        at.ready()
        at.hand_back(FIRST, "repaired")
        print(terminal.text())
        terminal.send("p")
        terminal.wait_for("Bill")
        print(terminal.text())
        terminal.send("\x1b")
        terminal.wait_for("Comes to, and took")
        at.home()
        at.take_in_unit("Alder", "Fourteen", "AL-1", "47.50", SECOND)
        at.scan(SECOND)
        at.sheet("p", f"Parts of {SECOND}")
        at.fit("battery", "8.25")
        at.home()
        at.scrap(SECOND, "board is wet", "6.30")
        assert 0
        print(terminal.text())
        terminal.send(MONTHS)
        terminal.wait_for("scrapped")
        print(terminal.text())
        at.home()
        terminal.send("q")
        assert terminal.wait_end() == 0
    for args in (("job", FIRST), ("quote", FIRST), ("quote", FIRST, "--paper", "bill"), ("month",), ("register",), ("money", FIRST), ("money", SECOND), ("unit", FIRST)):
        import json
        print(args, json.dumps(did(env, *args, "--json").json(), indent=1))
    assert 0
