"""Past cooks put through the model, many as the members of one ensemble.

Loads of one cut on one pit in one wrap differ in mass, setpoint, start and end, and each is a member with its
own. Beside them run members that each depart in one thing, for the slopes. Coarse on purpose: all of it
within a part in five hundred of the time, for half the work.
"""

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from board.cooking.cook import Cook, PitAir
from board.cooking.physics.parameters import Parameters
from board.cooking.sampling import Draws, departed_k, departures, slowest
from board.cooking.solver.columns import Columns
from board.cooking.solver.course import constants, run
from board.cooking.solver.ensemble import Ensemble, ensemble, joined
from board.house.model import Cut, Pit, Work, Wrap
from board.house.past import PastCook

Floats = NDArray[np.float64]

NODES = 12
UP_K, UP_SIZE = 2.0, 0.05  # steps for slopes: of the air and the core, of ln mass and ln radius
BESIDE = 6  # members for slopes besides one for each departure
PIECE_DRAWS = 64


@dataclass(frozen=True, slots=True)
class Group:
    """Past cooks of one cut on one pit in one wrap, with the air that is taken for their pit's."""

    cut: Cut
    pit: Pit
    air: PitAir
    altitude_m: float
    cooks: tuple[PastCook, ...]

    @property
    def key(self) -> tuple[str, str]:
        """Its cut and its pit."""
        return self.cut.id, self.pit.id


@dataclass(frozen=True, slots=True)
class Slopes:
    """How the logarithm of a group's minutes goes with each thing that departs.

    `departures` a standard deviation of each, and `bend` how the one of h changes with it; `pieces` with ln
    mass, ln radius and a kelvin of air; `core_k` with a kelvin of the core at the pull.
    """

    departures: Floats
    bend: float
    pieces: Floats
    core_k: float


@dataclass(frozen=True, slots=True)
class Ran:
    """A group as the model cooks it: `expected` ln minutes by cook, NaN for one that never comes; slopes."""

    group: Group
    expected: Floats
    slopes: Slopes


@dataclass(frozen=True, slots=True)
class Slowest:
    """The slowest of a load's pieces against their mean: ln mass, ln radius, K of its place."""

    mean: Floats
    covariance: Floats


@dataclass(slots=True)
class Members(Columns):
    """What each member is asked: `departures` by members, then its size, air, end and wrap."""

    departures: Floats
    ln_mass: Floats
    ln_radius: Floats
    setpoint_c: Floats
    place_k: Floats
    start_c: Floats
    core_c: Floats
    tender_s: Floats
    wrap_c: Floats
    wrap_s: Floats


def cook_of(past: PastCook, cut: Cut, pit: PitAir, altitude_m: float) -> Cook:
    """A past cook as the model is asked about it."""
    return Cook(
        cut=cut,
        mass_kg=past.mass_kg,
        pieces=past.pieces,
        pit=pit,
        setpoint_c=past.setpoint_c,
        until_core_c=cut.end_core_c if past.core_c is None else past.core_c,
        start_c=past.start_c,
        wrap=Wrap(past.wrap, past.wrap_core_c or cut.pull_core_c, Work()) if past.wrap else None,
        altitude_m=altitude_m,
        wrap_minute=past.wrap_minute,
        tender_minutes=cut.tender_minutes if past.core_c is None else 0.0,
    )


def ran(groups: Sequence[Group], parameters: Parameters) -> list[Ran]:
    """Each group as the model cooks it with nothing departed."""
    names = departures(parameters)
    asked = [_asked(group, names) for group in groups]
    both = [Members.joined([members, _beside(members, names)]) for members in asked]
    found = []
    for group, minutes in zip(groups, _minutes(groups, both, parameters), strict=True):
        cooks, beside = np.split(minutes, [len(group.cooks)])
        found.append(Ran(group, cooks, _slopes(beside, names)))
    return found


def slowest_of(cut: Cut, air: PitAir, pieces: int) -> Slowest:
    """What the slowest of so many pieces is like."""
    return _slowest_of(Cook(cut, cut.mass_kg.usual, pieces, air, cut.pit_c.usual, cut.pull_core_c))


@lru_cache(maxsize=512)  # a board stays open for days, and each evenness found asks anew
def _slowest_of(cook: Cook) -> Slowest:
    rng = np.random.Generator(np.random.PCG64(cook.pieces))
    mass, radius, spot = slowest(cook, PIECE_DRAWS, rng)
    pieces = np.array([np.log(mass), np.log(radius), spot])
    return Slowest(pieces.mean(axis=1), np.cov(pieces))


def _asked(group: Group, names: tuple[str, ...]) -> Members:
    """A group's cooks, each with the slowest of its pieces."""
    cooks = [cook_of(past, group.cut, group.air, group.altitude_m) for past in group.cooks]
    piece = np.array([slowest_of(group.cut, group.air, cook.pieces).mean for cook in cooks])
    return Members(
        departures=np.zeros((len(names), len(cooks))),
        ln_mass=np.log([cook.mass_kg for cook in cooks]) + piece[:, 0],
        ln_radius=piece[:, 1],
        setpoint_c=np.array([cook.setpoint_c for cook in cooks]),
        place_k=piece[:, 2],
        start_c=np.array([cook.start_c for cook in cooks]),
        core_c=np.array([cook.until_core_c for cook in cooks]),
        tender_s=np.array([60.0 * cook.tender_minutes for cook in cooks]),
        wrap_c=np.array([_wrap_c(cook) for cook in cooks]),
        wrap_s=np.array([np.inf if c.wrap_minute is None else 60.0 * c.wrap_minute for c in cooks]),
    )


def _wrap_c(cook: Cook) -> float:
    """The core a cook is wrapped at; infinite where none decides."""
    if cook.wrap is None or cook.wrap_minute is not None or cook.wrap.at_core_c >= cook.until_core_c:
        return np.inf
    return cook.wrap.at_core_c


def _beside(asked: Members, names: tuple[str, ...]) -> Members:
    """A middling cook, then that one with each departure up, h down, and mass, radius, air and core up."""
    middling = {
        field.name: np.quantile(getattr(asked, field.name), 0.5, axis=-1, keepdims=True, method="lower")
        for field in fields(asked)
    }
    many = len(names)
    spread = {name: np.repeat(value, many + BESIDE, axis=-1) for name, value in middling.items()}
    found = Members(**spread)
    found.departures[:, 1 : many + 1] += np.eye(many)
    found.departures[names.index("h"), many + 1] -= 1.0
    found.ln_mass[many + 2] += UP_SIZE
    found.ln_radius[many + 3] += UP_SIZE
    found.place_k[many + 4] += UP_K
    found.core_c[many + 5] -= UP_K
    return found


def _slopes(ln: Floats, names: tuple[str, ...]) -> Slopes:
    """Slopes from the members beside a group's cooks; nought where one never comes."""
    many, h = len(names), names.index("h")
    by = np.nan_to_num(ln[1:] - ln[0])
    departures = by[:many].copy()
    departures[h] = (by[h] - by[many]) / 2.0
    pieces = by[many + 1 : many + 4] / np.array([UP_SIZE, UP_SIZE, UP_K])
    return Slopes(departures, float(by[h] + by[many]), pieces, float(-by[many + 4] / UP_K))


def _minutes(groups: Sequence[Group], asked: Sequence[Members], parameters: Parameters) -> list[Floats]:
    """Ln minutes of each group's members, all advanced together."""
    parts = [_ensemble(group, members, parameters) for group, members in zip(groups, asked, strict=True)]
    course = run(joined(parts), constants(parameters))
    ln = np.where(course.reached, np.log(np.maximum(course.pulled_s, 1.0) / 60.0), np.nan)
    ends = np.cumsum([len(members.ln_mass) for members in asked])
    return np.split(ln, ends[:-1])


def _ensemble(group: Group, asked: Members, parameters: Parameters) -> Ensemble:
    """A group's members, departing in one ensemble from its first cook."""
    cook = replace(cook_of(group.cooks[0], group.cut, group.air, group.altitude_m), wrap_minute=None)
    normal = dict(zip(departures(parameters), asked.departures.copy(), strict=True))
    normal["start"] += (asked.start_c - cook.start_c) / parameters.priors["start"].sd
    air_k = asked.setpoint_c - cook.setpoint_c + asked.place_k + departed_k(normal["air"], group.air)
    draws = Draws(normal, np.exp(asked.ln_mass) / cook.mass_kg, np.exp(asked.ln_radius), air_k)
    part = ensemble(cook, draws, parameters, NODES)
    part.aims = replace(
        part.aims,
        pull_c=asked.core_c,
        tender_s=asked.tender_s,
        wrap_c=asked.wrap_c,
        wrap_s=asked.wrap_s,
    )
    return part
