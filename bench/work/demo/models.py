"""The demo's pages of models."""

from __future__ import annotations

from typing import Any

from sqlmodel import Session

from bench.domain.model_page import WRITTEN
from bench.store.demo_data import Demo
from bench.store.tables import ModelPage, ModelScrew, ModelStep


def add_model_pages(session: Session, demo: Demo) -> None:
    """A page for each model that models.toml tells of, with its steps and screws."""
    for told in demo.models:
        page = ModelPage(
            maker=told["maker"], model=told["model"], **{name: told.get(name, "") for name in WRITTEN}
        )
        session.add(page)
        session.flush()
        assert page.id is not None
        session.add_all(_rows(page.id, told))


def _rows(page_id: int, told: dict[str, Any]) -> list[ModelStep | ModelScrew]:
    steps = [
        ModelStep(page_id=page_id, position=position, words=words)
        for position, words in enumerate(told["steps"], start=1)
    ]
    return [*steps, *(ModelScrew(page_id=page_id, **screw) for screw in told["screws"])]
