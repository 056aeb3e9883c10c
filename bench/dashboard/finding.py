"""Finding from wherever one is: what there is to find besides rows of the file, and where a row leads."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import cache, partial
from typing import TYPE_CHECKING, Any, NamedTuple

from bench.dashboard.acting import Acting
from bench.dashboard.acts import places
from bench.dashboard.acts.act import FIND, SCREENS, Act, Opens
from bench.dashboard.acts.places import Place
from bench.dashboard.acts.synonyms import SYNONYMS
from bench.dashboard.acts.units import OF_A_UNIT, OF_THE_SHOP
from bench.dashboard.key_check import APP, SCREEN_KEYS
from bench.dashboard.keys import acts_on, run_by
from bench.dashboard.presenters.key_bar import shown_key
from bench.dashboard.presenters.settings_rows import PERSON
from bench.domain.calculators.registry import CALCULATORS
from bench.domain.finding import Names
from bench.views import finding_texts as kinds
from bench.views.finding import NamesKept

if TYPE_CHECKING:
    from bench.dashboard.app import BenchApp
    from bench.views.finding_texts import FoundLine
    from bench.views.scans import Found

ACT, SCREEN, CALCULATOR, PAGE = "act", "screen", "calculator", "manual"
MANUAL = "bench.dashboard.screens.manual:ManualScreen"
COLOURS = "bench.dashboard.screens.dialogs.pick:choose_colours"
OPEN_OFFER = "open"
HAVE_A_UNIT = ("first", "unit")  # the screens that open the sheets of their unit


class Entry(NamedTuple):
    """Something to be found that is no row of the file. `words`: other words for it; `open`: what it does."""

    kind: str
    name: str
    line: str
    open: Callable[[], None]
    words: str = ""
    key: str = ""


def open_find(app: BenchApp) -> None:
    """Open the dialog that finds, over whatever is open; once."""
    from bench.dashboard.screens.dialogs.find import FindDialog

    if isinstance(app.screen, FindDialog):
        return
    if app.names_kept is None:
        app.names_kept = NamesKept()
    app.push_screen(FindDialog(entries(app), app.names_kept), partial(_open, app))


def entries(app: BenchApp) -> dict[str, tuple[Entry, ...]]:
    """What can be done on the screen that is open, every other screen, and the calculators, by their kind."""
    screens = tuple(_screens(app))
    named = {one.name.casefold() for one in screens}
    acts = tuple(one for one in _acts(app) if one.name.casefold() not in named)
    return {ACT: acts, SCREEN: screens, CALCULATOR: tuple(_calculators(app))}


def names_of(some: Sequence[Entry]) -> Names:
    """The words by which these are found, in their order."""
    return Names("\n".join(f"{one.name} {one.words} {one.line}".replace("\n", " ") for one in some))


class Heading(NamedTuple):
    """A heading of the manual. `title`: of its page; `place`: where it stands, for the manual's screen."""

    words: str
    title: str
    place: str


@cache
def headings() -> tuple[Heading, ...]:
    """Every heading of the manual, in the order of reading."""
    from bench.manual.blocks import Kind
    from bench.manual.pages import TOPICS, read_page

    return tuple(
        Heading(block.text, page.title, f"{page.topic}#{block.anchor}")
        for page in map(read_page, TOPICS)
        for block in page.blocks
        if block.kind is Kind.HEADING
    )


@cache
def heading_names() -> Names:
    """The words by which a place in the manual is found: after what is of the present."""
    return Names("\n".join(f"{one.words} {one.title}" for one in headings()), present=False)


def heading_entry(app: BenchApp, number: int) -> Entry:
    """A heading of the manual as something to be opened."""
    one = headings()[number]
    return Entry(PAGE, one.words, one.title, partial(app.visits.open, Place(MANUAL, (one.place,))))


def place_of(line: FoundLine) -> Place:
    """Where a row that was found is shown, with the cursor at it."""
    number, unit = line.number, (line.unit_id,) if line.unit_id is not None else ()
    gone = not line.place.startswith(kinds.ON_SHELF)
    leads_to = {
        kinds.UNIT: Place(places.UNIT, unit),
        kinds.CONSUMABLE: Place(places.CONSUMABLE, (number,)),
        kinds.DRIVE: Place(places.WIPING, unit, at=("drives", number)),
        kinds.PART: Place(places.PARTS, unit, at=("rows", number)),
        kinds.OFFER: Place(places.BUYING, (), {"every": line.place != OPEN_OFFER}, ("offers", number)),
        kinds.PARTY: Place(places.REGISTER, at=("people", number)),
        kinds.PERSON: Place(places.SETTINGS, at=("rows", (PERSON, number))),
        kinds.FAULT: Place(places.FAULTS, unit, at=("faults", number)),
        kinds.MODEL: Place(places.MODEL_PAGE, (), {"maker": line.maker, "model": line.model}),
        kinds.ORDER: Place(places.ORDERS, (*unit, line.tag), at=("rows", number)),
        kinds.JOB: Place(places.JOB, unit),
        kinds.LOT: Place(places.LOTS, (number,)),
    }
    of_no_unit = {
        kinds.DRIVE: Place(places.PARTS_SHELF, (), {"gone": gone, "drive_id": number}),
        kinds.PART: Place(places.PARTS_SHELF, (), {"gone": gone}, ("gone" if gone else "rows", number)),
        kinds.ORDER: Place(places.ORDERS, (), {"settled": line.place in kinds.SETTLED}, at=("rows", number)),
    }
    return leads_to[line.kind] if unit else of_no_unit.get(line.kind, leads_to[line.kind])


def line_scanned(found: Found) -> FoundLine | None:
    """What was scanned as a row that was found; None for a card and for what nobody knows."""
    number = found.part_id or found.drive_id or found.consumable_id or found.unit_id
    if found.kind not in (kinds.UNIT, kinds.DRIVE, kinds.PART, kinds.CONSUMABLE) or number is None:
        return None
    place = "" if found.gone or found.unit_id is not None else kinds.ON_SHELF
    return kinds.FoundLine(found.kind, number, found.unit_id, found.tag, found.name, place)


def _open(app: BenchApp, chosen: Entry | FoundLine | None) -> None:
    if isinstance(chosen, Entry):
        chosen.open()
    elif chosen is not None:
        app.visits.open(place_of(chosen))


def _acts(app: BenchApp) -> Iterable[Entry]:
    """What the keys of the open screen do, then what those of the whole app do."""
    screen = app.screen
    bound = {active.binding.id for active in screen.active_bindings.values()}
    for table in (*SCREEN_KEYS.values(), APP):
        for one in table:
            moves = one.group == FIND and not one.footer  # keys that only move a cursor
            if one.id in bound and not moves and (one.screen, one.name) != ("app", "find"):
                run = partial(app.call_later, screen.run_action, run_by(one))
                yield _entry(app, ACT, one, run)
    yield Entry(
        ACT, "colours", "Choose the colours of the screen", partial(choose_colours, app), "theme dark"
    )


def _screens(app: BenchApp) -> Iterable[Entry]:
    """Every screen that opens without more; the sheets of the unit at hand where there is one."""
    told: list[Opens] = []
    of_first = [one for one in acts_on("first") if one.group == SCREENS]
    for one in (*OF_THE_SHOP, *of_first):
        way = one.ways[-1] if one.ways else None
        if isinstance(way, Opens) and not way.gives and not way.then and way not in told:
            told.append(way)
            place = Place(way.target, (), way.also)
            yield _entry(app, SCREEN, one, partial(app.visits.open, place), key=False)
    screen: object = app.screen
    for one in OF_THE_SHOP if isinstance(screen, Acting) else ():
        if not any(isinstance(way, Opens) for way in one.ways) and isinstance(screen, Acting):
            yield _entry(app, SCREEN, one, partial(screen.carry_out, *one.ways), key=False)
    unit = screen.here("unit") if isinstance(screen, Acting) and screen.keys in HAVE_A_UNIT else None
    if isinstance(screen, Acting) and unit is not None:
        for one in OF_A_UNIT:
            run = partial(screen.carry_out, *one.ways)
            yield _entry(app, SCREEN, one, run, of=f"of {unit.tag}: ", key=False)


def _calculators(app: BenchApp) -> Iterable[Entry]:
    here: Any = getattr(app.screen, "unit_here", lambda: None)()
    unit = (here.unit_id, here.tag) if hasattr(here, "unit_id") and hasattr(here, "tag") else ()
    for one in CALCULATORS:
        place = Place(places.CALCULATORS, unit, {"begin_with": one.name})
        yield Entry(CALCULATOR, one.title, one.line, partial(app.visits.open, place))


def _entry(
    app: BenchApp, kind: str, one: Act, run: Callable[[], object], *, of: str = "", key: bool = True
) -> Entry:
    shown = shown_key(app.own_keys.get(one.id, one.keys)) if key else ""
    return Entry(kind, one.label, of + one.tooltip, lambda: _run(run), SYNONYMS.get(one.id, ""), shown)


def _run(run: Callable[[], object]) -> None:
    run()


def choose_colours(app: BenchApp) -> None:
    """Ask for the colours of the screen."""
    names = sorted(app.available_themes, key=lambda name: (not name.startswith("bench-"), name))

    def chosen(number: int) -> None:
        app.theme = names[number]

    app.open_screen(COLOURS, names, app.theme, then=chosen)
