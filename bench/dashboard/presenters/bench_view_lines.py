"""The bench view: one unit in large letters, what runs on it, the one caution, and what comes next."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from bench.dashboard.presenters.large_letters import can_be_large, large, large_width, large_words, largest
from bench.dashboard.presenters.pieces import Line, Part, clip, fit, wrap
from bench.domain.durations import MINUTE_US, spent_of
from bench.domain.text import task_on
from bench.domain.timers import elapsed_us
from bench.views.queue import QueueRow, QueueView
from bench.views.safety import SafetyView
from bench.views.tasks import TaskLine
from bench.views.timers import Running, chief, ticking

MOST_NEXT = 3
MOST_BLANKS = 2  # around the caution, where there is room
GAP = "    "
BELOW = 11  # lines that are kept for what stands under the large letters


@dataclass(frozen=True, slots=True)
class OnTheBench:
    """What the bench view tells: a unit of the queue, its safety and tasks, who else is timing what."""

    view: QueueView
    row: QueueRow
    safety: SafetyView
    tasks: tuple[TaskLine, ...]
    person_id: int
    low: str = ""

    @property
    def timer(self) -> Running | None:
        """What runs on the unit, one's own hands-on time first."""
        own = [one for one in self.row.running if one.attended and one.person_id == self.person_id]
        return chief(own) or chief(self.row.running)


def bench_lines(shown: OnTheBench, width: int, height: int, now_us: int) -> tuple[Line, ...]:
    """The view's lines, at most `height` of them: what hurts is left out last."""
    above: list[Line] = [*_large(shown, width, height, now_us), ()]
    caution = _safety(shown.safety, width)
    below = [*_next(shown, width), *_others(shown, width, now_us)]
    if shown.low:
        below.append((Part(clip(shown.low, width), "warning"),))
    room = height - len(above) - len(caution) - len(below)
    task = _task(shown, width, room, now_us)
    apart: list[Line] = [()] if room - len(task) >= MOST_BLANKS else []
    return (*above, *task, *apart, *caution, *apart, *below)[:height]


def go_on_word(shown: OnTheBench | None) -> str:
    """What the one key does next: finish what runs, start what comes next, or move the unit on."""
    if shown is None:
        return "nothing to do"
    if shown.timer is not None:
        return "done"
    return "start" if shown.row.next_task_id is not None else "move on"


def _large(shown: OnTheBench, width: int, height: int, now_us: int) -> Iterable[Line]:
    tag, time = shown.row.tag, _clock(shown, now_us)
    model = (Part(clip(shown.row.model, width), "strong"), Part(f"{GAP}{_place(shown)}", "muted"))
    texts = [tag, time] if time else [tag]
    size = largest(texts, len(GAP), width, height - BELOW) if can_be_large(tag) else None
    if size is None:
        yield (Part(clip(f"{tag}{GAP}{time}", width), "strong"),)
        yield model
        return
    look = "running" if shown.timer is not None and shown.timer.attended else "waiting"
    blanks = " " * (width - sum(large_width(text, size) for text in texts))
    tags = large(tag, size)
    for left, right in zip(tags, large(time, size) if time else [""] * len(tags), strict=True):
        yield (Part(left, "strong"), Part(blanks), Part(right, look))
    yield ()
    yield model


def _clock(shown: OnTheBench, now_us: int) -> str:
    """Hours and minutes that the task runs; empty where none does."""
    if shown.timer is None:
        return ""
    minutes = elapsed_us(shown.timer.started_us, now_us) // MINUTE_US
    return f"{minutes // 60}:{minutes % 60:02}"


def _place(shown: OnTheBench) -> str:
    stage = next((one.name for one in shown.view.stages if one.stage_id == shown.row.stage_id), "")
    cover = "cover off" if shown.safety.lid_off else "cover on"
    return f"{stage}, {cover}"


def _task(shown: OnTheBench, width: int, height: int, now_us: int) -> list[Line]:
    """The task in large letters where there is room for them, else whole; what it took is said beneath."""
    timer = shown.timer
    name = timer.task if timer is not None else shown.row.next_task
    if not name:
        return [(Part("No task is left at this stage.", "heading"),)]
    if timer is None:
        says = Part("is next", "muted")
    else:
        task = next((one for one in shown.tasks if one.task_id == timer.task_id), None)
        spent_us = elapsed_us(timer.started_us, now_us) + (task.spent_us if task else 0)
        says = Part(spent_of(spent_us, timer.estimate_minutes), "running")
    letters = large_words(name, width, height - 1)
    if letters is not None:
        return [*((Part(row, "heading"),) for row in letters), (says,)]
    *lines, last = wrap(name, width - len(says.text) - 2)
    return [*((Part(line, "heading"),) for line in lines), (Part(f"{last}  ", "heading"), says)]


def _safety(safety: SafetyView, width: int) -> list[Line]:
    look = "loud" if safety.alarm or safety.cell_finding is not None else "warning"
    return [
        (Part(fit(line, width) if look == "loud" else line, look),) for line in wrap(safety.caution, width)
    ]


def _next(shown: OnTheBench, width: int) -> list[Line]:
    runs = shown.timer.task_id if shown.timer else shown.row.next_task_id
    left = [one for one in shown.tasks if one.state == "todo" and one.task_id != runs]
    names = " · ".join(one.name for one in left[:MOST_NEXT])
    return [(Part("Then: ", "muted"), Part(clip(names, width - 6)))] if names else []


def _others(shown: OnTheBench, width: int, now_us: int) -> list[Line]:
    lines: list[Line] = []
    for person in shown.view.people:
        for entry in person.running:
            if shown.timer is None or entry.entry_id != shown.timer.entry_id:
                text = f"{person.name}  {ticking(entry, now_us)}  {task_on(entry.task, entry.tag)}"
                lines.append((Part(clip(text, width), "muted" if entry.attended else "waiting"),))
    return lines
