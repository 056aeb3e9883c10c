"""Which field of a dialog the next key goes to: its label has other looks than the labels of the others."""

from __future__ import annotations

from tests.pty.terminal import Terminal


def wait_focus_in(terminal: Terminal, heading: str, label: str, other: str) -> None:
    """Wait until the dialog under this heading is drawn, and the focus is at `label`, not at `other`."""

    def holds(text: str) -> bool:
        lines = text.splitlines()
        column = next((line.index(heading) for line in lines if heading in line), -1)
        if column < 0:
            return False
        cells = terminal.cells()
        looks = {
            name: (cells[row][column].fg, cells[row][column].bg, cells[row][column].bold)
            for row, line in enumerate(lines)
            for name in (label, other)
            if line[column:].startswith(f"{name}  ")
        }
        return len(looks) == 2 and looks[label] != looks[other]

    terminal.wait_until(holds, f"the focus at {label} under {heading}")
