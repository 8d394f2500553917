"""What may have its temperature taken now, what each read last, and which figures are out of reason."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from board.cooking.tables import number
from board.house.degrees import is_fahrenheit, shown, shown_step
from board.house.model import RecipeKind
from board.ledger.state import OFF_AND_THERE, LoadStage, Reading
from board.views import names
from board.views.batch_times import is_gone
from board.views.days import when
from board.views.facts import Facts, all_batches, batch_state
from board.views.gather import WALK_IN
from board.views.likely import counted_state
from board.views.off_pits import off_pits, with_earlier
from board.views.progress import Revised
from board.views.reference import ref
from board.views.spots import spot
from board.views.subjects import food
from board.views.taking import is_in_the_meat
from board.views.watching import running

_TWO_DIGITS = re.compile(r"[0-9]{2}")
_COOKING = (LoadStage.ON, LoadStage.WRAPPED)


@dataclass(frozen=True, slots=True)
class Place:
    """One thing to measure: its key, its name, a word about it, and what it read last, also in words.

    The key is `load:DAY/ID` or `place:ID`. `is_core` tells that it is of meat that cooks; `asked_c` is what a
    pit was asked for.
    """

    key: str
    name: str
    about: str
    last_c: float | None = None
    last: str = ""
    is_core: bool = False
    asked_c: float | None = None


def places(facts: Facts, revised: Revised | None = None) -> list[Place]:
    """What may have a temperature now: loads cooking, then those kept for a service, watches, pits and holds.

    What came off is named by when, for it is on its pit no longer; after its services it is asked about while
    something of it is left.
    """
    cooking, waiting = _loads(facts, revised)
    return [*cooking, *waiting, *_watches(facts), *_pits(facts), *_kept(facts), *_batches(facts)]


def _loads(facts: Facts, revised: Revised | None) -> tuple[list[Place], list[Place]]:
    cooking: list[Place] = []
    waiting: list[Place] = []
    left = {ref(plan.day, load.id) for plan, load in off_pits(facts)}
    for plan, load in with_earlier(facts):
        state = counted_state(facts, plan, load, revised)
        ends = [occasion.until for occasion in plan.occasions if occasion.id in load.services]
        served = state.stage in OFF_AND_THERE and max(ends, default=facts.now) >= facts.now
        wanted = served or ref(plan.day, load.id) in left
        if state.stage in _COOKING or wanted:
            off = f"off {when(facts, state.pulled_at)}" if state.pulled_at is not None else "off"
            what = f"{names.pieces(facts.house, load)}, {off if wanted else spot(facts, load, plan.day)}"
            key, last = f"load:{ref(plan.day, load.id)}", state.last_core_c
            about = _last(facts, last, state.last_core_at)
            (waiting if wanted else cooking).append(Place(key, what, about, last, about, is_core=not wanted))
    return cooking, waiting


def _batches(facts: Facts) -> Iterator[Place]:
    """Brines, cures and glazes that are made and neither gone nor all in the meat, each by its lot."""
    for plan, batch in all_batches(facts):
        state = batch_state(facts, batch, plan.day)
        kept = not is_gone(state.stage) and not is_in_the_meat(facts, plan, batch)
        if state.made_at is not None and kept and batch.kind != RecipeKind.RUB:
            name = f"{names.recipe_name(facts.house, batch.recipe)}, lot {state.lot}"
            read = facts.chilling.get((plan.day, batch.id), ())
            last = _last_of(facts, read)
            yield Place(f"place:{state.lot or state.id}", name, last, _c(read), last)


def _watches(facts: Facts) -> Iterator[Place]:
    for watch in running(facts):
        since = f"{watch.kind}, since {when(facts, watch.started_at)}"
        read = facts.watched.get(watch.id, ())
        last = _last_of(facts, read)
        about = f"{since}, {last}" if read else since
        yield Place(f"place:{watch.id}", food(watch), about, _c(read), last)


def _pits(facts: Facts) -> Iterator[Place]:
    for id, pit in facts.house.pits.items():
        state, name = facts.pits.get(id), f"{pit.name}, the pit"
        if state is None or state.setpoint_c is None:
            yield Place(f"place:{id}", name, "not lit", last="not lit")
            continue
        asked = f"asked for {names.degrees(facts.house, state.setpoint_c)}"
        last = _last(facts, state.last_air_c, state.last_air_at)
        about = f"{asked}, {last}" if last else asked
        yield Place(f"place:{id}", name, about, state.last_air_c, last, asked_c=state.setpoint_c)


def _kept(facts: Facts) -> Iterator[Place]:
    for id, hold in facts.house.holds.items():
        read = facts.kept.get(id, ())
        yield Place(f"place:{id}", hold.name, _last_of(facts, read), _c(read), _last_of(facts, read))
    read = facts.kept.get(WALK_IN, ())
    yield Place(f"place:{WALK_IN}", WALK_IN, _last_of(facts, read), _c(read), _last_of(facts, read))


def _c(readings: tuple[Reading, ...]) -> float | None:
    return readings[-1].temperature_c if readings else None


def _last_of(facts: Facts, readings: tuple[Reading, ...]) -> str:
    return _last(facts, readings[-1].temperature_c, readings[-1].at) if readings else ""


def _last(facts: Facts, celsius: float | None, at: datetime | None) -> str:
    """What was read last, and when: `last 149° 05:10`."""
    if celsius is None:
        return ""
    return f"last {names.degrees(facts.house, celsius)}" + (f" {when(facts, at)}" if at else "")


def doubt(facts: Facts, place: Place, celsius: float) -> str:
    """A word about a figure that is out of reason for a place; empty for one that may well be."""
    if not _limit("probe", "readable_low_c") <= celsius <= _limit("probe", "readable_high_c"):
        return "nothing in a kitchen reads that"
    if place.is_core and celsius > _limit("asked_about", "hottest_core_c"):
        return "no core is so hot"
    fallen = (place.last_c or celsius) - celsius
    if place.is_core and fallen >= _limit("asked_about", "core_fall_k"):
        return f"{shown_step(fallen, facts.house.display):.0f}° below the last"
    off = abs(celsius - place.asked_c) if place.asked_c is not None else 0.0
    if place.asked_c is not None and off >= _limit("asked_about", "air_off_k"):
        return f"far from the {names.degrees(facts.house, place.asked_c)} asked for"
    return ""


def whole_figure(facts: Facts, place: Place, typed: str) -> str:
    """A core in °F made whole from its last two digits: 57 of a load that read 149° is 157.

    Only where the two digits by themselves would be a fall out of reason, and a hundred or two more is about
    the last reading or above it; a leading nought (057) means the digits as they are.
    """
    display = facts.house.display
    if place.last_c is None or not (
        place.is_core and is_fahrenheit(display) and _TWO_DIGITS.fullmatch(typed)
    ):
        return typed
    last, fall = shown(place.last_c, display), shown_step(_limit("asked_about", "core_fall_k"), display)
    if int(typed) > last - fall:
        return typed
    hottest = shown(_limit("asked_about", "hottest_core_c"), display)
    meant = [whole for whole in (100 + int(typed), 200 + int(typed)) if last - fall < whole <= hottest]
    return str(meant[0]) if meant else typed


def _limit(section: str, key: str) -> float:
    return number("readings", section, key)
