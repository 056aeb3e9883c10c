"""No act names what is not there: every reference loads, and what is given fits what takes it."""

from __future__ import annotations

import inspect
import pkgutil
import re
import types
import typing
from collections.abc import Callable, Iterator
from importlib import import_module
from pathlib import Path
from string import Formatter
from typing import Any

import pytest

import bench.dashboard
from bench.dashboard.acting import Acting
from bench.dashboard.acts import places
from bench.dashboard.acts.act import (
    ANSWER,
    Act,
    AsksName,
    AsksWhy,
    Calls,
    Opens,
    Runs,
    Way,
    asks_name,
    asks_why,
    gives,
    load,
    needs,
    on,
    opens,
    paths,
    runs,
    sentences,
)
from bench.dashboard.acts.synonyms import SYNONYMS
from bench.dashboard.finding import Entry, names_of
from bench.dashboard.key_check import APP, SCREEN_KEYS
from bench.dashboard.keys import act_on
from bench.dashboard.screens.first import FirstScreen
from bench.dashboard.screens.unit import UnitScreen
from bench.desk import Desk
from bench.domain.finding import find

SOURCES = Path(bench.dashboard.__file__).parent
REFERENCE = re.compile(r'"(bench(?:\.\w+)+:[\w.]+)"')
REFERENCES = sorted({one for path in SOURCES.rglob("*.py") for one in REFERENCE.findall(path.read_text())})
MODULES = [
    import_module(one.name) for one in pkgutil.walk_packages([str(SOURCES)], prefix="bench.dashboard.")
]
SHARED = {"more": (FirstScreen, UnitScreen)}  # what a menu offers is done by the screen below it


def screens(kind: type[Acting] = Acting) -> Iterator[type[Acting]]:
    """Every screen that carries out acts."""
    for one in kind.__subclasses__():
        if one.__module__.startswith("bench.") and hasattr(one, "keys"):
            yield one
        yield from screens(one)


def done_by(table: str) -> list[type[Acting]]:
    """The screens on which the acts of a table are done."""
    return [*SHARED.get(table, ()), *(one for one in screens() if one.keys == table)]


def ways_in(value: object) -> Iterator[Way]:
    """The ways among the constants of a module, in tuples and mappings too."""
    if isinstance(value, (Opens, Runs, AsksWhy, AsksName, Calls)):
        yield value
    elif isinstance(value, tuple):
        for one in value:
            yield from ways_in(one)
    elif isinstance(value, dict):
        for one in value.values():
            yield from ways_in(one)


OWN = [one for table in SCREEN_KEYS.values() for one in table if not one.ways]
OF_ACTS = [
    pytest.param(screen, way, id=f"{one.id} on {screen.__name__} {number}")
    for table in SCREEN_KEYS.values()
    for one in table
    for screen in done_by(one.screen)
    for number, way in enumerate(one.ways)
]
BESIDES = [
    pytest.param(screen, way, id=f"{screen.__name__} {name} {number}")
    for screen in screens()
    for name, value in vars(import_module(screen.__module__)).items()
    if name.isupper()
    for number, way in enumerate(ways_in(value))
]


@pytest.mark.parametrize("reference", REFERENCES)
def test_every_reference_loads(reference: str) -> None:
    found = load(reference)
    if callable(found):
        assert found.__module__ == reference.partition(":")[0]
    else:
        assert all(isinstance(one, Act) for one in found)


def test_every_place_is_a_reference() -> None:
    named = {value for name, value in vars(places).items() if name.isupper()}
    assert named <= set(REFERENCES)
    assert len(REFERENCES) > 100


@pytest.mark.parametrize("table", [name for name, acts in SCREEN_KEYS.items() if any(a.ways for a in acts)])
def test_every_act_has_a_screen_that_carries_it_out(table: str) -> None:
    assert done_by(table)


@pytest.mark.parametrize("one", OWN, ids=lambda one: one.id)
def test_what_has_no_way_is_a_method_of_its_own(one: Act) -> None:
    owners = [owner for owner in binding_classes() if one.id in own_ids(owner)]
    assert owners or one in APP
    for owner in owners:  # that a form alone can be emptied, all dialogs say
        assert any(hasattr(kind, f"action_{one.action}") for kind in (owner, *owner.__subclasses__()))


@pytest.mark.parametrize(("screen", "way"), [*OF_ACTS, *BESIDES])
def test_what_is_given_is_there_and_fits(screen: type[Acting], way: Way) -> None:
    for path in paths(way):
        assert kind_of(screen, path) is not None
    if isinstance(way, str):
        return
    given = [kind_of(screen, path) for path in gives(way)]
    match way:
        case Opens():
            must_fit(load(way.target), given, way.also)
            if way.then:
                must_fit(load(way.then), [screen, Any, *given], {})
        case Runs():
            must_fit(load(way.target), [Desk, *given], way.also)
        case AsksWhy() | AsksName():
            must_fit(load(way.target), [Desk, *given, str], {})
        case Calls():
            must_fit(load(way.target), [screen, *given], {})
    for name in answers_named(way):
        told = typing.get_type_hints(load(way.target))["return"]
        assert member(told, name) is not None


def answers_named(way: Way) -> list[str]:
    """What a sentence takes from the answer."""
    fields = [name for one in sentences(way) for _, name, _, _ in Formatter().parse(one) if name]
    return [name.partition(".")[2] for name in fields if name.startswith(f"{ANSWER}.")]


def test_an_act_that_names_what_is_not_there_is_found() -> None:
    with pytest.raises(AssertionError):
        test_what_is_given_is_there_and_fits(UnitScreen, opens(places.CELL, "unit.number"))
    with pytest.raises(AssertionError):
        test_what_is_given_is_there_and_fits(UnitScreen, opens(places.CELL, "unit.tag"))
    with pytest.raises(AttributeError):
        test_what_is_given_is_there_and_fits(UnitScreen, opens(places.CELL, "part.part_id"))
    with pytest.raises(TypeError):
        test_what_is_given_is_there_and_fits(UnitScreen, opens(places.CELL, "unit.unit_id", "unit.tag"))
    with pytest.raises(TypeError):
        test_what_is_given_is_there_and_fits(UnitScreen, runs("bench.work.moves:release_unit"))
    with pytest.raises(AssertionError):
        test_what_is_given_is_there_and_fits(UnitScreen, "{unit.colour} is not there.")


def test_needs_follow_from_what_is_given_and_named() -> None:
    assert needs(opens(places.CELL, "unit.unit_id")) == ("unit",)
    assert needs(runs("a:b", "task.task_id", says="{unit.tag}: {answer}")) == ("task", "unit")
    assert needs(asks_why("Skip {task.name}", "a:b", draft="skip {line.number}")) == ("task", "line")
    assert needs(asks_name("New", "a:b", draft="new", name="{route.name} 2")) == ("route",)
    assert needs("{unit.tag} has none.") == ("unit",)
    assert needs("There is none.") == ()


def test_an_act_is_named_by_its_screen() -> None:
    (one,) = on("stock", Act("look", "l", "look", "Look at it", "Find").by("There is nothing to see."))
    assert one.id == "stock.look"
    assert one.action == "act('look')"
    assert Act("look", "l", "look", "Look at it", "Find").action == "look"


def binding_classes() -> set[type]:
    """Everything with bindings."""
    classes = [value for module in MODULES for value in vars(module).values() if inspect.isclass(value)]
    return {one for one in classes if "BINDINGS" in vars(one) and one.__module__.startswith("bench.")}


def own_ids(owner: type) -> set[str | None]:
    """The ids of a class's own bindings."""
    return {getattr(one, "id", None) for one in vars(owner)["BINDINGS"]}


def kind_of(screen: type[Acting], path: str) -> Any:
    """The type of what a path names on a screen, None left out."""
    what, _, name = path.partition(".")
    told = without_none(typing.get_type_hints(getattr(screen, f"{what}_here"))["return"])
    return member(told, name) if name else told


def member(kind: Any, name: str) -> Any:
    """The type of an attribute, of a property too; an assertion fails where there is none."""
    found = inspect.getattr_static(kind, name, None)
    if isinstance(found, property):
        return without_none(typing.get_type_hints(found.fget)["return"])
    hints = typing.get_type_hints(kind)
    assert name in hints, f"{kind} has no {name}"
    return without_none(hints[name])


def without_none(kind: Any) -> Any:
    """A type without its None."""
    members = [one for one in alternatives(kind) if one is not type(None)]
    return members[0] if len(members) == 1 else kind


def alternatives(kind: Any) -> tuple[Any, ...]:
    """The types of a union, or the one."""
    return typing.get_args(kind) if typing.get_origin(kind) in (types.UnionType, typing.Union) else (kind,)


def must_fit(called: Callable[..., Any], given: list[Any], also: Any) -> None:
    """Fail where a function or class does not take these types in this order."""
    signature = inspect.signature(called)
    bound = signature.bind(*given, **also)
    function = called.__init__ if inspect.isclass(called) else called  # type: ignore[misc]
    for name, kind in bound.arguments.items():
        wanted = meaning(signature.parameters[name].annotation, function)
        if name not in also and signature.parameters[name].kind is not inspect.Parameter.VAR_POSITIONAL:
            assert any(takes(one, kind) for one in alternatives(wanted)), f"{called}: {name} is no {kind}"


def meaning(annotation: Any, function: Any) -> Any:
    """What an annotation stands for; Any for what only the type checker imports."""
    if annotation is inspect.Parameter.empty:  # self
        return Any
    if not isinstance(annotation, str):
        return annotation
    try:
        return eval(annotation, function.__globals__)
    except NameError:
        return Any


def takes(wanted: Any, kind: Any) -> bool:
    """Whether a parameter takes a value of that type."""
    wanted, kind = typing.get_origin(wanted) or wanted, typing.get_origin(kind) or kind
    if wanted is Any or kind is Any or getattr(wanted, "_is_protocol", False):
        return True
    return inspect.isclass(wanted) and inspect.isclass(kind) and issubclass(kind, wanted)


def test_the_app_does_its_own() -> None:
    assert not any(one.ways for one in APP)


@pytest.mark.parametrize("named", SYNONYMS)
def test_other_words_belong_to_an_act_and_find_it(named: str) -> None:
    table, _, name = named.partition(".")
    one = act_on(table, name)
    assert one.id == named
    entry = Entry("act", one.label, one.tooltip, lambda: None, SYNONYMS[named])
    for word in SYNONYMS[named].split():
        assert [hit.nearly for hit in find({"act": names_of([entry])}, word, 1)] == [False], word
        assert word not in one.label.casefold().split(), f"{word} stands in its label"
