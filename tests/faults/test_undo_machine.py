"""The state machine over undo, redo, gates, drives, parts and returns, in short; what its model allows."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, settings
from hypothesis.stateful import run_state_machine_as_test

from tests.faults.machine import Shop
from tests.faults.model import Act, Model, listed_anew, made_by
from tests.faults.model_ground import ImpossibleError


def test_undo_never_lies_in_short(tmp_path: Path) -> None:
    class Here(Shop):
        kept = tmp_path

    run_state_machine_as_test(
        Here,
        settings=settings(
            max_examples=6,
            stateful_step_count=40,
            deadline=None,
            derandomize=True,
            database=None,
            phases=[Phase.generate],
            suppress_health_check=list(HealthCheck),
        ),
    )


@pytest.mark.parametrize("since", ["looked", "test"])
def test_a_listing_redone_rests_on_what_is_known_by_then(tmp_path: Path, since: str) -> None:
    """The program asks its gates when it redoes; the model must allow it, and hold all else against it."""

    class Here(Shop):
        kept = tmp_path

    shop = Here()
    shop.open(begun=False)
    shop.look(person=1, unit=1)
    shop.put_up_or_take_down(person=1, unit=1, up=True)
    shop.undo(person=1, choices=[0], newest=True)
    if since == "looked":
        shop.undo(person=1, choices=[0], newest=True)
        shop.look(person=2, unit=1)
    else:
        shop.test(person=2, unit=1, kind="screen", outcome="failed")
        shop.waive(person=2, unit=1)
    shop.the_shop_is_what_the_acts_that_stand_make()
    shop.redo(person=1, choices=[0] if since == "test" else [1], newest=False)
    assert listed_anew(shop.acts.values())
    shop.the_shop_is_what_the_acts_that_stand_make()
    shop.teardown()


def test_a_listing_that_nothing_allows_is_found_wherever_it_stands() -> None:
    does = [lambda model: model.put_up(1, frozenset()), lambda model: model.hold(1)]
    acts = [Act(1, 1, "list", does[0], redone=3), Act(2, 1, "hold", does[1])]
    for place in (0, listed_anew(acts)):
        with pytest.raises(ImpossibleError, match="none looked for"):
            made_by(acts, place)
    assert made_by([Act(1, 1, "look", lambda model: model.look(1)), *acts], 3).listed == {1}
    assert Model().listed == set()
