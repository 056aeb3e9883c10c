"""The manual is true: its commands run, its keys are keys, and every screen and form has a heading in it."""

from __future__ import annotations

import importlib
import pkgutil
import re
import shlex
import shutil
from pathlib import Path

import pytest

from bench.cli import run
from bench.dashboard.acts.units import OF_A_UNIT, OF_THE_SHOP
from bench.dashboard.key_check import SCREEN_KEYS, check_keys
from bench.dashboard.manual_places import DIALOGS, SCREENS
from bench.dashboard.screens import dialogs
from bench.dashboard.screens.dialogs.dialog import Dialog
from bench.desk import SystemClock
from bench.manual.blocks import Kind
from bench.manual.pages import HERE, TOPICS, read_page, source_of
from bench.settings import read_settings
from bench.work.demo import make_demo
from tests.docs.shown import blocks, examples, links, named_commands
from tests.docs.tables import commands

NOT_OF_A_SCREEN = {"dialog", "choice", "mark", "list", "filter", "finder", "jump", "beginning"}
WITH_EXAMPLES = [topic for topic in TOPICS if examples(source_of(topic))]


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("demo")
    make_demo(folder / "demo.bench", SystemClock()).close()
    return folder


def test_every_page_has_a_topic_and_every_topic_a_page() -> None:
    assert {path.stem for path in HERE.glob("*.md")} == set(TOPICS)
    assert len(set(TOPICS)) == len(TOPICS)


@pytest.mark.parametrize("topic", TOPICS)
def test_a_page_begins_with_its_title_and_its_headings_differ(topic: str) -> None:
    page = read_page(topic)
    headings = [block for block in page.blocks if block.kind is Kind.HEADING]
    assert page.blocks[0] == headings[0]
    assert [one.level for one in headings].count(1) == 1
    assert len({one.anchor for one in headings}) == len(headings)
    assert len(page.blocks) > len(headings)


@pytest.mark.parametrize("topic", TOPICS)
def test_what_a_page_names_is_there(topic: str) -> None:
    text = source_of(topic)
    assert [link for link in links(text) if link.removesuffix(".md") not in TOPICS] == []
    assert [name for name in named_commands(text) if name not in commands()] == []


@pytest.mark.parametrize("topic", WITH_EXAMPLES)
def test_every_example_runs(
    topic: str,
    demo: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """One after the other on a demo file of the page's own, as Ines."""
    here = tmp_path / "here"
    shutil.copytree(demo, here)
    monkeypatch.chdir(here)
    monkeypatch.setenv("BENCH_DATA", str(here / "demo.bench"))
    monkeypatch.setenv("BENCH_PERSON", "Ines")
    monkeypatch.setenv("BENCH_SETTINGS", str(here / "none.toml"))
    (here / "none.toml").write_text("")
    for line in examples(source_of(topic)):
        code = run(shlex.split(line)[1:])
        said = capsys.readouterr()
        assert (code, said.err) == (0, ""), f"{line}: {said.err}"
        assert said.out.strip(), f"{line} printed nothing"


def test_the_settings_shown_are_read(tmp_path: Path) -> None:
    [shown] = blocks(source_of("settings"), "toml")
    path = tmp_path / "settings.toml"
    path.write_text(shown, encoding="utf-8")
    settings = read_settings({"BENCH_SETTINGS": str(path)})
    assert settings.data_path == Path("/srv/bench/workshop.bench")
    assert (settings.person, settings.mouse) == ("Ines", False)
    assert settings.keys
    check_keys(settings.keys)


def test_a_key_behind_more_opens_what_the_page_says() -> None:
    keys = {one.keys for one in (*OF_THE_SHOP, *OF_A_UNIT)}
    told = [key for topic in TOPICS for key in re.findall(r"`f`\s`(\w)`", source_of(topic))]
    assert len(told) > 15
    assert [key for key in told if key not in keys] == []


def test_every_place_is_a_heading_of_a_page() -> None:
    for place in (*SCREENS.values(), *DIALOGS.values()):
        topic, _, anchor = place.partition("#")
        headings = [block.anchor for block in read_page(topic).blocks if block.kind is Kind.HEADING]
        assert not anchor or anchor in headings, place


def test_every_screen_and_every_module_of_dialogs_has_a_place() -> None:
    screens = {name.partition(" ")[0] for name in SCREENS}
    assert set(SCREEN_KEYS) - screens <= NOT_OF_A_SCREEN
    modules = {
        file.name
        for file in pkgutil.iter_modules(dialogs.__path__)
        if _has_a_dialog(importlib.import_module(f"{dialogs.__name__}.{file.name}"))
    }
    assert modules - {"dialog", "form"} <= set(DIALOGS)


def _has_a_dialog(module: object) -> bool:
    name = getattr(module, "__name__", "")
    own = (one for one in vars(module).values() if getattr(one, "__module__", "") == name)
    return any(
        (isinstance(one, type) and issubclass(one, Dialog)) or hasattr(one, "__wrapped__") for one in own
    )
