"""Cooks with one thing done otherwise."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from board.cooking.account.figures import Change
from board.cooking.cook import AirCurve, Cook
from board.cooking.errors import CookingError
from board.cooking.possible import check
from board.house.library import usual_wrap_core_c
from board.house.model import Work, Wrap, WrapMaterial
from board.house.spans import Spread

LATER_PULL_K = 2.0
SOFTER = 1.2  # of the time at 93 °C
COLDER_K = 3.0
QUICKER = 1.2  # of the pit's heat transfer
WETTER = 2.0  # of its humidity ratio


@dataclass(frozen=True, slots=True)
class Otherwise:
    """A cook with one thing changed, by how much."""

    change: Change
    cook: Cook
    amount: float = 0.0


def changed(cook: Cook, hotter_k: float, heavier_kg: float) -> list[Otherwise]:
    """Every change that can be made to a cook, those that cannot be cooked left out."""
    return [other for other in _changes(cook, hotter_k, heavier_kg) if _possible(other.cook)]


def _changes(cook: Cook, hotter_k: float, heavier_kg: float) -> Iterator[Otherwise]:
    yield Otherwise(Change.HOTTER, _hotter(cook, hotter_k), hotter_k)
    yield from _wraps(cook)
    yield Otherwise(Change.HEAVIER, replace(cook, mass_kg=cook.mass_kg + heavier_kg), heavier_kg)
    yield _further(cook)
    colder = min(COLDER_K, cook.start_c)
    if colder > 0.0:
        yield Otherwise(Change.COLDER, replace(cook, start_c=cook.start_c - colder), colder)
    pit = cook.pit
    yield Otherwise(
        Change.QUICKER_PIT, replace(cook, pit=replace(pit, h_c=_times(pit.h_c, QUICKER))), QUICKER
    )
    wet = replace(pit, humidity=_times(pit.humidity, WETTER))
    yield Otherwise(Change.WET_PIT, replace(cook, pit=wet), WETTER)


def _further(cook: Cook) -> Otherwise:
    """Left on for more: softer where tenderness ends the cook, else at a higher core."""
    if cook.tender_minutes:
        return Otherwise(Change.SOFTER, replace(cook, tender_minutes=cook.tender_minutes * SOFTER), SOFTER)
    later = replace(cook, until_core_c=cook.until_core_c + LATER_PULL_K)
    return Otherwise(Change.LATER_PULL, later, LATER_PULL_K)


def _hotter(cook: Cook, by_k: float) -> Cook:
    """The same cook in a pit so much hotter all along."""
    air = cook.air and AirCurve(cook.air.minutes, tuple(c + by_k for c in cook.air.celsius))
    move = cook.move and replace(cook.move, setpoint_c=cook.move.setpoint_c + by_k)
    return replace(cook, setpoint_c=cook.setpoint_c + by_k, air=air, move=move)


def _wraps(cook: Cook) -> Iterator[Otherwise]:
    """The wraps it does not have: bare where it has one, at the cut's usual core."""
    usual = cook.wrap or cook.cut.wrap or Wrap(WrapMaterial.PAPER, usual_wrap_core_c(), Work())
    if usual.at_core_c >= cook.until_core_c:
        return
    if cook.wrap is not None:
        yield Otherwise(Change.OPEN, replace(cook, wrap=None, wrap_minute=None))
    for material, change in ((WrapMaterial.FOIL, Change.FOIL), (WrapMaterial.PAPER, Change.PAPER)):
        if cook.wrap is None or cook.wrap.material is not material:
            wrap = replace(usual, material=material)
            yield Otherwise(change, replace(cook, wrap=wrap), usual.at_core_c)


def _times(spread: Spread, ratio: float) -> Spread:
    return Spread(spread.low * ratio, spread.usual * ratio, spread.high * ratio)


def _possible(cook: Cook) -> bool:
    try:
        check(cook)
    except CookingError:
        return False
    return True
