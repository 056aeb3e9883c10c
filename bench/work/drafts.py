"""Half-filled forms, kept in the data file until they are sent or dropped. Not journaled."""

from __future__ import annotations

import json
from collections.abc import Mapping

from bench.desk import Desk
from bench.store.tables import Draft


def save_draft(desk: Desk, form: str, values: Mapping[str, str]) -> None:
    """Keep what is typed into a form so far, by field, those that were emptied too."""
    if not values:
        drop_draft(desk, form)
        return
    body = json.dumps(dict(values), ensure_ascii=False)
    with desk.store.write() as session:
        session.merge(Draft(form=form, body=body, saved_us=desk.clock.now_us()))


def drop_draft(desk: Desk, form: str) -> None:
    """Forget what was typed into a form."""
    with desk.store.write() as session:
        draft = session.get(Draft, form)
        if draft is not None:
            session.delete(draft)
