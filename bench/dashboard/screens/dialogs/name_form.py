"""A name for something: a person, a stage, a route."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from bench.dashboard.screens.dialogs.field import Field, TextField
from bench.dashboard.screens.dialogs.form import Form
from bench.desk import Desk


class NameForm(Form[bool]):
    """Asks for a name and hands it to the use case."""

    send_action = "enter"

    def __init__(
        self, heading: str, use_case: Callable[[Desk, str], Any], name: str = "", *, draft: str
    ) -> None:
        super().__init__(heading, draft=draft)
        self.use_case = use_case
        self.name_now = name

    def fields(self) -> Sequence[Field]:
        """The name."""
        return (TextField("name", "Name", value=self.name_now),)

    def work(self) -> Callable[[], Any]:
        """Run the use case with the name."""
        desk, use_case, name = self.desk, self.use_case, self.value("name")
        return lambda: use_case(desk, name)
