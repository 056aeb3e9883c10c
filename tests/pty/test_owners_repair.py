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
        at.quote_line("fan", "parts", "", "34.95", "", "total 41.94 EUR")
        at.quote_line("fitting it", "labour", "90 min", "42", "", "total 117.54 EUR")
        at.quote_line("recycling of the old one", "other", "", "12.35", "10 %", "total 131.13 EUR")
        at.quote_line("for waiting", "allowance", "", "5", "", "total 125.13 EUR")
        print(terminal.text())
        at.give_quote(today, "90")
        at.accepted(today, "by phone")
        at.home()
        print(terminal.text())
        at.start("")
        print(terminal.text())
        terminal.send("d")
        terminal.wait_for("Finish ")
        print(terminal.text())
