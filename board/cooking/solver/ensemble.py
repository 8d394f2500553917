"""The members of a cook as arrays: their bodies, their meat, their places in order, their aims."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from board.cooking.cook import AirCurve, Cook
from board.cooking.physics.air import boiling_c, pressure_pa
from board.cooking.physics.food import food_of
from board.cooking.physics.parameters import Parameters
from board.cooking.physics.places import after_pull, on_pit, wrapped
from board.cooking.physics.shape import body_of
from board.cooking.sampling import Draws
from board.cooking.solver.columns import Columns, Indices, Meat, State, Surroundings
from board.cooking.solver.pit_airs import PitAirs

Floats = NDArray[np.float64]

NODES = 20
CAP_S = 48 * 3600.0
FIRST_STEP_S = 5.0
FLATTEST, ROUNDEST = -0.3, 3.0  # below 0: less surface than middle, as a slab among neighbours
OPEN, WRAPPED, RESTING, KEPT, DONE = range(5)
ELSEWHERE = 4  # the places of a load moved to another pit follow those of its first


@dataclass(slots=True)
class Aims(Columns):
    """When a member moves on: cores to wrap and pull at (°C), tenderness to pull at (s at 93 °C).

    `rest_s` is the first rest, `kept_s` the one after it (s).

    `wrap_s` and `move_s` are moments to wrap and to change pits at (infinite: never), `curve` which column
    of the pits' air the member lives in (−1: its setpoint throughout). `last_s` ends one that never comes.
    """

    wrap_c: Floats
    pull_c: Floats
    tender_s: Floats
    rest_s: Floats
    kept_s: Floats
    wrap_s: Floats
    move_s: Floats
    last_s: Floats
    curve: Indices


@dataclass(slots=True)
class Ensemble:
    """Members ready to run; `places` has bare, wrapped, resting and kept, then bare and wrapped elsewhere."""

    meat: Meat
    places: Surroundings
    state: State
    aims: Aims
    pit_air: PitAirs


def ensemble(cook: Cook, draws: Draws, parameters: Parameters, nodes: int = NODES) -> Ensemble:
    """The members of one cook."""
    pressure = pressure_pa(cook.altitude_m)
    body = _body(cook, draws, parameters)
    meat = _meat(cook, draws, parameters, body, nodes)
    start = cook.start_c + parameters.priors["start"].at(draws.normal["start"])
    return Ensemble(
        meat=meat,
        places=_places(cook, draws, parameters, pressure),
        state=at_rest(start, nodes, parameters.fixed["film_start"]),
        aims=_aims(cook, body),
        pit_air=PitAirs.of(_curve(cook)),
    )


def joined(parts: Sequence[Ensemble]) -> Ensemble:
    """Several cooks' members side by side."""
    return Ensemble(
        meat=Meat.joined([p.meat for p in parts]),
        places=Surroundings.joined([p.places for p in parts]),
        state=State.joined([p.state for p in parts]),
        aims=_joined_aims(parts),
        pit_air=PitAirs.joined([p.pit_air for p in parts]),
    )


def _joined_aims(parts: Sequence[Ensemble]) -> Aims:
    """Aims side by side, each cook's members pointing at its own column of air."""
    aims, first = [], 0
    for part in parts:
        curve = np.where(part.aims.curve >= 0, part.aims.curve + first, -1)
        aims.append(replace(part.aims, curve=curve))
        first += part.pit_air.count
    return Aims.joined(aims)


def _curve(cook: Cook) -> AirCurve | None:
    """The air in time, where it is not one setpoint throughout."""
    if cook.air is not None or cook.move is None:
        return cook.air
    at = cook.move.minute
    return AirCurve((at, at), (cook.setpoint_c, cook.move.setpoint_c))


@dataclass(frozen=True, slots=True)
class Bodies:
    """Radius (m) and exponent of each member's slowest piece."""

    radius: Floats
    g: Floats


def _body(cook: Cook, draws: Draws, parameters: Parameters) -> Bodies:
    """The slowest piece's body: its mass through the cut's way of growing, then its own departures."""
    masses, which = np.unique(draws.mass, return_inverse=True)
    bodies = [body_of(cook.cut.size, cook.mass_kg * ratio, parameters) for ratio in masses]
    radius = np.array([b.radius_m for b in bodies])[which] * draws.radius
    radius *= parameters.priors["radius"].at(draws.normal["radius"])
    g = np.array([b.g for b in bodies])[which] + parameters.priors["roundness"].at(draws.normal["roundness"])
    return Bodies(radius, np.clip(g, FLATTEST, ROUNDEST))


def geometry(bodies: Bodies, nodes: int) -> tuple[Floats, Floats]:
    """Volume of each node's cell (m) and area over distance of each face (1/m), a unit of surface."""
    face = (np.arange(nodes) + 0.5)[:, None] / nodes
    within = np.vstack([np.zeros_like(bodies.g), face ** (bodies.g + 1), np.ones_like(bodies.g)])
    volume = np.diff(within, axis=0) * (bodies.radius / (bodies.g + 1))
    return volume, face**bodies.g * (nodes / bodies.radius)


def _meat(cook: Cook, draws: Draws, parameters: Parameters, body: Bodies, nodes: int) -> Meat:
    """The meat of each member."""
    pressure = pressure_pa(cook.altitude_m)
    food = food_of(cook.cut.composition)
    volume, conductance = geometry(body, nodes)
    like = np.ones_like(body.g)

    def at(name: str) -> Floats:
        return parameters.priors[name].at(draws.normal[name])

    return Meat(
        volume=volume,
        depth=body.radius / (body.g + 1.0),
        conductance=conductance,
        heat=np.outer(food.heat, at("heat")),
        conductivity=np.outer(food.conductivity, at("conductivity")),
        density=food.density * like,
        water=food.water * like,
        expelled=food.water * at("expelled"),
        midpoint=at("midpoint"),
        width=at("width"),
        lag=at("lag"),
        wicking=at("wicking"),
        pressure=pressure * like,
        boiling=boiling_c(pressure) * like,
        renders=cook.cut.composition.fat * np.minimum(at("rendered"), 1.0),
    )


def _places(cook: Cook, draws: Draws, parameters: Parameters, pressure: float) -> Surroundings:
    """Bare, wrapped, at rest and kept, then bare and wrapped elsewhere; one never visited repeats another.

    Air that moves in time is laid over these by the course, so such a cook's places hold departures only.
    """
    base_c = 0.0 if _curve(cook) is not None else cook.setpoint_c
    bare = on_pit(cook.pit, base_c, draws, parameters, pressure)
    drawn_there = draws.there or draws
    there = on_pit(cook.move.pit, base_c, drawn_there, parameters, pressure) if cook.move else bare
    covered, covered_there = (_covered(cook, place, draws, parameters) for place in (bare, there))
    rest = after_pull(cook, cook.rest, draws, parameters, pressure) if cook.rest else covered
    later = cook.rest.then if cook.rest else None
    kept = after_pull(cook, later, draws, parameters, pressure) if later else rest
    row = (bare, covered, rest, kept, there, covered_there)
    return Surroundings(*(np.stack([getattr(p, name) for p in row]) for name in Surroundings.names()))


def _covered(cook: Cook, place: Surroundings, draws: Draws, parameters: Parameters) -> Surroundings:
    """A place with the cook's wrap on."""
    return wrapped(place, cook.wrap.material, draws, parameters) if cook.wrap else place


def at_rest(celsius: Floats, nodes: int, film: float) -> State:
    """A piece as it is loaded: even temperature, wet surface, nothing lost."""
    even = np.tile(celsius, (nodes + 1, 1))
    none = np.zeros_like(celsius)
    first = np.full_like(celsius, FIRST_STEP_S)
    return State(
        celsius=even,
        celsius_before=even.copy(),
        expelled=np.zeros_like(even),
        boiled=np.zeros_like(even),
        film=np.full_like(celsius, film),
        seconds=none.copy(),
        step=first,
        step_before=first.copy(),
        step_wanted=first.copy(),
        heat_in=none.copy(),
        evaporated=none.copy(),
        dripped=none.copy(),
        tender=none.copy(),
    )


def _aims(cook: Cook, body: Bodies) -> Aims:
    """The cores and times at which members move on."""
    like = np.ones_like(body.g)
    timed = cook.wrap is not None and cook.wrap_minute is not None
    wrap_c = cook.wrap.at_core_c if cook.wrap and cook.wrap.at_core_c < cook.until_core_c else np.inf
    curve = _curve(cook)
    return Aims(
        wrap_c=(np.inf if timed else wrap_c) * like,
        pull_c=cook.until_core_c * like,
        tender_s=60.0 * cook.tender_minutes * like,
        rest_s=(cook.rest.minutes * 60.0 if cook.rest else 0.0) * like,
        kept_s=(cook.rest.then.minutes * 60.0 if cook.rest and cook.rest.then else 0.0) * like,
        wrap_s=_moment_s(cook.wrap_minute if timed else None) * like,
        move_s=_moment_s(cook.move.minute if cook.move else None) * like,
        last_s=CAP_S * like,
        curve=np.full(body.g.size, 0 if curve else -1, dtype=np.intp),
    )


def _moment_s(minute: float | None) -> float:
    """Seconds from loading; infinite for what never comes."""
    return np.inf if minute is None else 60.0 * minute
