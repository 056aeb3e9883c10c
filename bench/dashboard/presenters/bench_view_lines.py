"""The bench view: one unit in large letters, what runs on it, the one caution, and what comes next."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from bench.dashboard.presenters.large_letters import can_be_large, large, large_width, largest
from bench.dashboard.presenters.pieces import Line, Part, clip, fit, wrap
from bench.domain.durations import MINUTE_US, spent_of
from bench.domain.text import task_on
from bench.domain.timers import elapsed_us
from bench.views.queue import QueueRow, QueueView
from bench.views.safety import SafetyView
from bench.views.tasks import TaskLine
from bench.views.timers import Running, chief, ticking

MOST_NEXT = 3
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
    lines: list[Line] = [*_large(shown, width, height, now_us), (), _task(shown, width, now_us)]
    lines += _safety(shown.safety, width)
    lines += [(), *_next(shown, width)]
    lines += _others(shown, width, now_us)
    if shown.low:
        lines.append((Part(clip(shown.low, width), "warning"),))
    return tuple(lines[:height])


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


def _task(shown: OnTheBench, width: int, now_us: int) -> Line:
    timer = shown.timer
    if timer is None:
        text = f"Next: {shown.row.next_task}" if shown.row.next_task else "No task is left at this stage."
        return (Part(clip(text, width), "heading"),)
    task = next((one for one in shown.tasks if one.task_id == timer.task_id), None)
    spent_us = elapsed_us(timer.started_us, now_us) + (task.spent_us if task else 0)
    spent = f"  {spent_of(spent_us, timer.estimate_minutes)}"
    return (Part(clip(timer.task, width - len(spent)), "heading"), Part(spent, "running"))


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
