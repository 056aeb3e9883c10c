"""The line above everything: the shop, the time of day, who is timing what, and today's hands-on hours."""

from __future__ import annotations

from rich.cells import cell_len

from bench.dashboard.presenters.pieces import Line, Part, clip, cut, spread, width_of
from bench.domain.durations import hours_and_minutes
from bench.domain.localtime import day_and_time
from bench.domain.orders import due_in_short, due_words
from bench.domain.timers import elapsed_us
from bench.domain.weeks import day_bounds_us, local_day
from bench.views.queue import PersonNow, QueueView
from bench.views.timers import chief, ticking

BETWEEN = Part("   ")
SHOP_MOST = 24
SHOP_LEAST = 11  # where parts are due on a narrow screen
WIDE = 100
TASK_MOST = 18
DEMO = " DEMO "


def top_line(view: QueueView, now_us: int, acting_id: int, width: int) -> Line:
    """The whole line, `width` cells wide: what has no room goes in the order tasks, idle people, timers.

    Parts that are due today or late stand before today's hours. The made-up workshop is said to be one.
    """
    zone = view.shop.zone
    today: Line = (Part(f"today {hours_and_minutes(hands_on_today_us(view, now_us))}", "strong"),)
    wide = width >= WIDE
    due = (due_words if wide else due_in_short)(view.due.due_today, view.due.late)
    if due:
        today = (Part(due, "warning" if view.due.late else "waiting"), BETWEEN, *today)
    when = day_and_time(now_us, zone) if wide else day_and_time(now_us, zone)[-5:]
    name = clip(view.shop.name, SHOP_LEAST if due and not wide else SHOP_MOST)
    demo = (Part(DEMO, "selected"), Part(" ")) if view.demo else ()
    start = (*demo, Part(name, "heading"), BETWEEN, Part(when), BETWEEN)
    room = width - width_of(start) - width_of(today) - 1
    return spread((*start, *_people(view, now_us, acting_id, room)), today, width)


def hands_on_today_us(view: QueueView, now_us: int) -> int:
    """Today's hands-on time of all people, what runs included, cut at local midnight; microseconds."""
    midnight_us, _ = day_bounds_us(local_day(now_us, view.shop.zone), view.shop.zone)
    closed_us = sum(person.today_us for person in view.people)
    return closed_us + sum(
        elapsed_us(max(entry.started_us, midnight_us), now_us) for entry in view.running() if entry.attended
    )


def _people(view: QueueView, now_us: int, acting_id: int, room: int) -> Line:
    people = sorted(view.people, key=lambda person: person.person_id != acting_id)
    busy = [person for person in people if person.running or person.person_id == acting_id]
    several = len(people) > 1
    for shown, with_task in ((people, True), (people, False), (busy, True), (busy, False)):
        line: list[Part] = []
        for person in shown:
            acting = several and person.person_id == acting_id
            line += [BETWEEN] if line else []
            line += _person(person, now_us, acting=acting, with_task=with_task)
        if width_of(line) <= room:
            return tuple(line)
    alone = _person(people[0], now_us, acting=several, with_task=False) if people else []
    more = Part(f"  +{len(people) - 1}" if several else "", "muted")
    room -= cell_len(more.text)
    if width_of(alone) > room:  # the unit's tag goes whole: half of one is none
        alone = alone[:2]
    if width_of(alone) > room:
        alone = _person(people[0], now_us, acting=False, with_task=False)[:2]
    return (*cut(tuple(alone), room), more)


def _person(person: PersonNow, now_us: int, *, acting: bool, with_task: bool) -> list[Part]:
    name = Part(clip(person.name, 16) + (" (you)" if acting else ""), "strong")
    entry = chief(person.running)
    if entry is None:
        return [name, Part(" –", "muted")]
    task = f" {clip(entry.task, TASK_MOST)}" if with_task else ""
    others = f" +{len(person.running) - 1}" if len(person.running) > 1 else ""
    look = "running" if entry.attended else "waiting"
    return [name, Part(f" {ticking(entry, now_us)}", look), Part(f" {entry.tag}{task}{others}")]
