"""What is shown instead of a screen that does not fit into the window."""

from __future__ import annotations

from textual.widgets import Label

LEAST_WIDTH, LEAST_HEIGHT = 60, 16  # columns, rows


class TooSmall(Label):
    """Covers all of the screen below it, which meanwhile takes no keys."""

    def __init__(self) -> None:
        super().__init__(
            f"This window is too small.\nMake it {LEAST_WIDTH} by {LEAST_HEIGHT} or larger.", markup=False
        )
