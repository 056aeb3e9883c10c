from __future__ import annotations

import asyncio
from functools import partial

import pytest
from textual import events
from textual.color import Color
from textual.worker import WorkerFailed

from bench.dashboard.app import BenchApp
from bench.dashboard.messages import DataChanged, Tick, Written
from bench.dashboard.screens.first import FirstScreen
from bench.dashboard.themes import DARK, LIGHT, own_theme
from bench.dashboard.ticking import ClockWatch
from bench.dashboard.widgets.queue_list import QueueList
from bench.dashboard.widgets.top_line import TopLine
from bench.desk import Desk
from bench.domain.durations import HOUR_US
from bench.errors import BadInput
from bench.views.journal import read_journal
from bench.views.queue import read_queue
from bench.views.shop import read_people
from tests.clocks import HandSetClock
from tests.screen.waiting import first_screen, text_of, until


@pytest.mark.parametrize("ask", ["hang_up", "leave_soon"])
async def test_it_is_asked_to_leave_from_another_thread(desk: Desk, ask: str) -> None:
    """As by a signal or a terminal that is gone; the real ones are under test in tests/pty."""
    async with first_screen(desk) as (screen, pilot):
        app = screen.app
        assert isinstance(app, BenchApp)
        leave, code = (app.hang_up, 129) if ask == "hang_up" else (partial(app.leave_soon, 143), 143)
        await asyncio.to_thread(leave)
        await until(pilot, lambda: app.return_code is not None)
        assert app.return_code == code


async def test_a_scanners_burst_lands_on_each_unit_in_turn(busy: Desk) -> None:
    rows = [row for stage in read_queue(busy).stages for row in stage.rows]
    async with first_screen(busy) as (screen, pilot):
        screen.bench.ear.hears = True
        for row in (rows[4], rows[8], rows[2]):
            for character in row.tag:
                screen.app.post_message(events.Key(character, character))
            screen.app.post_message(events.Key("enter", "\r"))
        queue = screen.query_one(QueueList)
        await until(pilot, lambda: queue.row == rows[2])
        await until(pilot, lambda: screen.focused is queue)
        assert screen.query_one("#jump").value == ""  # type: ignore[attr-defined]


async def test_a_clock_set_back_is_told_and_kept_in_the_journal(busy: Desk, clock: HandSetClock) -> None:
    async with first_screen(busy) as (screen, pilot):
        clock.set_wall(clock.now_us() - HOUR_US)
        screen.bench.second_hand.tick()
        await until(pilot, lambda: read_journal(busy).lines[0].action == "clock")
        await until(
            pilot, lambda: "set back by 1 h 00" in "".join(str(t.render()) for t in screen.query("Toast"))
        )


def test_a_step_is_seen_once(clock: HandSetClock) -> None:
    watch = ClockWatch(clock)
    clock.advance(minutes=60)
    assert watch.step_us() == 0
    clock.set_wall(clock.now_us() + HOUR_US)
    assert watch.step_us() == HOUR_US
    assert watch.step_us() == 0


async def test_a_forgotten_timer_is_asked_about_once(busy: Desk, clock: HandSetClock) -> None:
    clock.advance(minutes=10 * 60)
    async with first_screen(busy) as (screen, pilot):
        app = screen.bench
        await until(pilot, lambda: type(app.screen).__name__ == "ForgottenDialog")
        await pilot.press("escape")
        await until(pilot, lambda: app.screen is screen)
        app.second_hand.look_for_forgotten()
        await app.workers.wait_for_complete()
        await pilot.pause()
        assert app.screen is screen


async def test_someone_else_can_act(busy: Desk) -> None:
    bo = next(person.person_id for person in read_people(busy) if person.name == "Bo")
    async with first_screen(busy) as (screen, pilot):
        screen.bench.act_as(bo)
        await until(pilot, lambda: "Bo (you)" in text_of(screen.query_one(TopLine)))
        assert screen.desk.person_id == bo


async def test_an_error_is_shown_with_its_remedy_and_never_as_markup(desk: Desk) -> None:
    def work() -> None:
        raise BadInput("[/] is [red]not[/] a tag.", "Look at the sticker.")

    async with first_screen(desk) as (screen, pilot):
        screen.do(work)
        await until(pilot, lambda: bool(screen.query("Toast")))
        assert "[/] is [red]not[/] a tag. Look at the sticker." in str(screen.query("Toast").first().render())


async def test_what_failed_can_be_dealt_with_where_it_was_asked(desk: Desk) -> None:
    def work() -> None:
        raise BadInput("no", "yes")

    dealt: list[str] = []
    async with first_screen(desk) as (screen, pilot):
        screen.do(work, failed=lambda error: not dealt.append(error.title))
        await until(pilot, lambda: dealt == ["Cannot use that"])
        assert not screen.query("Toast")


async def test_changes_run_in_the_order_asked(desk: Desk) -> None:
    done: list[int] = []
    async with first_screen(desk) as (screen, pilot):
        for number in range(20):
            screen.change(lambda number=number: done.append(number))
        await until(pilot, lambda: len(done) == 20)
        assert done == list(range(20))


async def test_a_mistake_of_the_program_is_not_hidden(desk: Desk) -> None:
    def work() -> None:
        raise ZeroDivisionError

    async def run() -> None:
        async with first_screen(desk) as (screen, pilot):
            screen.do(work)
            await until(pilot, lambda: screen.app.return_code is not None)

    with pytest.raises(WorkerFailed, match="ZeroDivisionError"):
        await run()


def test_bursts_of_news_are_one() -> None:
    assert Written().can_replace(Written())
    assert DataChanged().can_replace(DataChanged())
    assert Tick(1).can_replace(Tick(2))
    assert not Tick(1).can_replace(Written())


def test_light_terminals_get_the_light_colours() -> None:
    assert own_theme({"COLORFGBG": "0;15"}) == LIGHT.name
    assert own_theme({"COLORFGBG": "15;default;0"}) == DARK.name
    assert own_theme({}) == DARK.name


@pytest.mark.parametrize("theme", [DARK, LIGHT], ids=lambda theme: theme.name)
def test_colours_stand_out_from_their_background(theme: object) -> None:
    """Source: W3C, WCAG 2.2, success criterion 1.4.3: at least 4.5 to 1 for text."""
    ground = Color.parse(theme.background)  # type: ignore[attr-defined]
    for name in ("foreground", "primary", "secondary", "accent", "warning", "error", "success"):
        assert contrast(Color.parse(getattr(theme, name)), ground) >= 4.5, name
    muted = ground.blend(Color.parse(theme.foreground), 0.7)  # type: ignore[attr-defined]
    assert contrast(muted, ground) >= 4.5
    cursor = Color.parse(theme.variables["block-cursor-background"])  # type: ignore[attr-defined]
    assert contrast(Color.parse(theme.foreground), cursor) >= 4.5  # type: ignore[attr-defined]


def test_contrast_of_black_and_white_is_the_published_21() -> None:
    """Source: W3C, WCAG 2.2, definition of contrast ratio: from 1 to 21."""
    assert contrast(Color.parse("#000000"), Color.parse("#ffffff")) == pytest.approx(21)
    assert contrast(Color.parse("#777777"), Color.parse("#ffffff")) == pytest.approx(4.48, abs=0.005)


def contrast(one: Color, other: Color) -> float:
    """The contrast ratio by WCAG 2.2, from relative luminance."""
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def luminance(colour: Color) -> float:
    parts = [
        part / 255 / 12.92 if part / 255 <= 0.04045 else ((part / 255 + 0.055) / 1.055) ** 2.4
        for part in (colour.r, colour.g, colour.b)
    ]
    return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]


async def test_a_named_theme_is_kept(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TEXTUAL_THEME", "ansi-dark")
    app = BenchApp(desk)
    assert app.theme not in (DARK.name, LIGHT.name)
    monkeypatch.delenv("TEXTUAL_THEME")
    async with first_screen(desk) as (screen, _):
        assert isinstance(screen, FirstScreen)
        assert screen.app.theme == DARK.name


async def test_a_second_that_passes_while_the_program_ends_ends_in_nothing(desk: Desk) -> None:
    async with first_screen(desk) as (first, _):
        app = first.app
        assert isinstance(app, BenchApp)
    assert app.top_screen is None
    app.second_hand.tick()
