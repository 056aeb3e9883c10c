"""A model's page as text and JSON, and as one file for another shop."""

from __future__ import annotations

from collections.abc import Sequence

from bench.domain.model_page import LABELS, NOTHING, WRITTEN, ModelPageSheet
from bench.domain.text import for_display
from bench.reports.plain_tables import one_line, sections, told, under, wrapped
from bench.reports.plain_values import facts_of, json_text
from bench.views.kinds import context_of
from bench.views.model_page import ModelLine
from bench.views.tables.model_page import (
    FITTED,
    KNOWN_FAULTS,
    MODEL_PHOTOGRAPHS,
    MODELS,
    SCREWS,
    STEPS,
    TASK_HOURS,
)


def models_text(models: Sequence[ModelLine]) -> str:
    """Every model, a line each."""
    return sections(told(MODELS, models))


def models_json(models: Sequence[ModelLine]) -> str:
    """Every model as a JSON document."""
    return json_text("models", {"models": [facts_of(one, "UTC") for one in models]})


def model_page_text(page: ModelPageSheet) -> str:
    """What was written, then what its units took and fetched."""
    context = context_of(page)
    words = [
        f"{LABELS[name].capitalize()}: {for_display(getattr(page, name))}"
        for name in WRITTEN
        if getattr(page, name)
    ]
    return sections(
        one_line(page.name),
        "\n".join(map(wrapped, words)) if page.written else NOTHING,
        under(STEPS.title, told(STEPS, page.steps)) if page.steps else "",
        under(SCREWS.title, told(SCREWS, page.screws)) if page.screws else "",
        under(f"Specification, by {page.specified_tag}", "\n".join(map(wrapped, page.made_of)))
        if page.made_of
        else "",
        under(KNOWN_FAULTS.title, told(KNOWN_FAULTS, page.faults, context)) if page.faults else "",
        under(MODEL_PHOTOGRAPHS.title, told(MODEL_PHOTOGRAPHS, page.photographs, context))
        if page.photographs
        else "",
        "\n".join(map(wrapped, page.past_words)),
        under(TASK_HOURS.title, told(TASK_HOURS, page.hours, context)) if page.hours else "",
        under(FITTED.title, told(FITTED, page.parts, context)) if page.parts else "",
    )


def model_page_json(page: ModelPageSheet) -> str:
    """The page as a JSON document."""
    return json_text("model_page", facts_of(page, page.zone))
