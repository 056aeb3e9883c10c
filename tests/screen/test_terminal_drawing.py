"""What is sent of a drawing: all of it where nothing is known, else the cells that differ and no other."""

from __future__ import annotations

from rich.console import Console, RenderableType
from rich.segment import Segment
from textual._compositor import ChopsUpdate, CompositorUpdate, LayoutUpdate
from textual.geometry import Region
from textual.strip import Strip

from bench.dashboard.terminal_drawing import Shown

CONSOLE = Console()


def strip(text: str) -> Strip:
    return Strip([Segment(text)])


def whole(*lines: str) -> LayoutUpdate:
    return LayoutUpdate([[strip(line)] for line in lines], Region(0, 0, 10, len(lines)))


def line(text: str, *, first: int = 0, end: int = 10) -> ChopsUpdate:
    return ChopsUpdate([{0: strip(text)}], [(0, first, end)], [[10]])


def sent(update: RenderableType | None) -> str:
    assert isinstance(update, CompositorUpdate)
    return update.render_segments(CONSOLE)


def shown(*lines: str) -> Shown:
    one = Shown()
    assert all(text in sent(one.take("screen", whole(*lines))) for text in lines)
    return one


def test_of_a_line_drawn_again_only_what_differs_is_sent() -> None:
    one = shown("0123456789")
    assert sent(one.take("screen", line("0123x56789"))) == "\x1b[1;5Hx"
    assert sent(one.take("screen", line("0123x56789"))) == ""
    assert sent(one.take("screen", line("y123x5678z"))) == "\x1b[1;1Hy\x1b[1;10Hz"
    assert sent(one.take("screen", line("y12ax5678z"))) == "\x1b[1;4Ha"


def test_what_no_span_touches_is_not_looked_at() -> None:
    """Beside a span the framework's drawing holds the bare ground, not what is to be seen."""
    one = shown("0123456789")
    update = ChopsUpdate([{0: strip("     "), 5: strip("56x89")}], [(0, 5, 10)], [[5, 10]])
    assert "\x1b[1;1H" not in sent(one.take("screen", update))


def test_a_line_with_wide_characters_is_sent_from_where_it_differs() -> None:
    one = shown("漢字漢字漢")
    assert sent(one.take("screen", line("漢字字字漢"))) == "\x1b[1;1H漢字字字漢"


def test_the_whole_screen_is_compared_with_what_is_shown_and_sent_anew_where_that_is_unknown() -> None:
    one = shown("0123456789")
    assert sent(one.take("screen", whole("0123x56789"))) == "\x1b[1;5Hx"
    assert "0123x56789" in sent(one.take("a dialog", whole("0123x56789")))
    assert sent(one.take("a dialog", whole("0123x56789"))) == ""
    one.forget()
    assert "0123x56789" in sent(one.take("a dialog", whole("0123x56789")))
