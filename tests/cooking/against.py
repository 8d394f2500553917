"""Our solver and SciPy's on the same cooks, side by side."""

from dataclasses import dataclass, replace
from time import perf_counter

import numpy as np

from board.cooking.cook import AirCurve, Cook, Move, Rest
from board.cooking.physics.air import boiling_c
from board.cooking.physics.parameters import parameters
from board.cooking.physics.shape import body_of
from board.cooking.pit_air import Opening, Setpoint, expected_air
from board.cooking.sampling import middle
from board.cooking.solver.course import constants, run
from board.cooking.solver.ensemble import ELSEWHERE, KEPT, NODES, RESTING, WRAPPED, Ensemble, ensemble
from board.cooking.solver.running import Trace
from board.house.library import library_cut
from board.house.model import PitKind, Work, Wrap, WrapMaterial
from tests.cooking import stiff
from tests.cooking.lab import SEA_LEVEL_PA
from tests.cooking.published import CENTRE_BRISKET, OVEN, PIT, air

FIXED = parameters().fixed
FAN = air(PitKind.OVEN, 30.0, 0.03)
COOKS = {
    "brisket, foil at 70 °C, box": Cook(
        library_cut("brisket"),
        6.5,
        1,
        PIT,
        114.0,
        95.0,
        5.0,
        Wrap(WrapMaterial.FOIL, 70.0, Work()),
        Rest("cooler", 60.0),
    ),
    "shoulder, paper at 70 °C, room": Cook(
        library_cut("pork-shoulder"),
        3.9,
        1,
        PIT,
        121.0,
        93.0,
        5.0,
        Wrap(WrapMaterial.PAPER, 70.0, Work()),
        Rest("room", 60.0),
    ),
    "chicken half, oven, room": Cook(
        library_cut("chicken-half"), 0.7, 1, OVEN, 163.0, 74.0, 5.0, None, Rest("room", 20.0)
    ),
    "rib roast, room, then a hold": Cook(
        library_cut("beef-rib-roast"),
        5.5,
        1,
        PIT,
        121.0,
        54.0,
        5.0,
        None,
        Rest("room", 15.0, then=Rest("hold", 120.0, hold_c=62.8)),
    ),
    "small roast, hot fan oven": Cook(library_cut("beef-round-roast"), 1.0, 1, FAN, 225.0, 70.0, 5.0),
    "sausage": Cook(library_cut("sausage"), 0.1, 1, PIT, 121.0, 72.0, 5.0),
    "brisket, foil by the clock": replace(
        CENTRE_BRISKET, wrap=Wrap(WrapMaterial.FOIL, 70.0, Work()), wrap_minute=300.0
    ),
    "brisket, moved to a hot cabinet": replace(
        CENTRE_BRISKET, move=Move(400.0, air(PitKind.CABINET, 18.0, 0.05), 135.0)
    ),
    "brisket, pit falls and is raised": replace(
        CENTRE_BRISKET,
        air=AirCurve((0.0, 60.0, 90.0, 240.0, 250.0, 480.0, 500.0), (114.0, 114, 90, 118, 114, 114, 135)),
    ),
    "chicken half, lid opened four times": replace(
        Cook(library_cut("chicken-half"), 0.7, 1, PIT, 135.0, 77.0, 5.0),
        air=expected_air([Setpoint(0.0, 135.0)], 12.0, openings=[Opening(30.0 * k) for k in range(1, 5)]),
    ),
}


def piece_of(cook: Cook, members: Ensemble) -> stiff.Piece:
    """The cook's middle member, for the other solver."""
    meat, body = members.meat, body_of(cook.cut.size, cook.mass_kg, parameters())
    return stiff.Piece(
        radius=body.radius_m,
        g=body.g,
        heat=tuple(meat.heat[:, 0]),
        conductivity=tuple(meat.conductivity[:, 0]),
        density=float(meat.density[0]),
        water=float(meat.water[0]),
        expelled=float(meat.expelled[0]),
        midpoint=float(meat.midpoint[0]),
        width=float(meat.width[0]),
        lag=float(meat.lag[0]),
        wicking=float(meat.wicking[0]),
        nodes=NODES,
        boiling_c=boiling_c(SEA_LEVEL_PA),
    )


def legs_of(cook: Cook, members: Ensemble) -> list[tuple[stiff.Place, float | None, float]]:
    """The stretches of the cook: its places, the cores that end them, their longest durations."""
    bare = place_of(cook, members, 0)
    last, legs = bare, list[tuple[stiff.Place, float | None, float]]()
    if cook.move:
        legs.append((bare, None, 60.0 * cook.move.minute))
        last = place_of(cook, members, ELSEWHERE)
    if cook.wrap:
        timed = cook.wrap_minute is not None
        legs.append((bare, None, 60.0 * cook.wrap_minute) if timed else (bare, cook.wrap.at_core_c, 2e5))
        last = place_of(cook, members, WRAPPED)
    legs.append((last, cook.until_core_c, 2e5))
    if cook.rest:
        legs.append((place_of(cook, members, RESTING), None, cook.rest.minutes * 60.0))
    if cook.rest and cook.rest.then:
        legs.append((place_of(cook, members, KEPT), None, cook.rest.then.minutes * 60.0))
    return legs


def place_of(cook: Cook, members: Ensemble, phase: int) -> stiff.Place:
    """One of the middle member's places, its pit's setpoint or moving air laid over it."""
    at = {name: float(getattr(members.places, name)[phase, 0]) for name in members.places.names()}
    place = stiff.Place(
        at["h"],
        at["emissivity"],
        at["air_c"],
        at["wall_k"] - 273.15,
        humidity_of(cook, phase),
        at["gap_m2k_w"],
        at["wrap_m2s_kg"],
    )
    if phase in (RESTING, KEPT):
        return place
    if cook.air is not None:
        minutes, celsius = cook.air.minutes, cook.air.celsius
        place.moving = lambda second: float(np.interp(second / 60.0, minutes, celsius))
    elif cook.move is not None:
        setpoint_c = cook.move.setpoint_c if phase == ELSEWHERE else cook.setpoint_c
        place.air_c, place.wall_c = place.air_c + setpoint_c, place.wall_c + setpoint_c
    return place


def humidity_of(cook: Cook, phase: int) -> float:
    """Humidity ratio of the air in one of the cook's phases."""
    if phase == RESTING:
        return FIXED["room_humidity"]
    if phase == KEPT:
        return FIXED["hold_humidity"]
    return cook.move.pit.humidity.usual if cook.move and phase == ELSEWHERE else cook.pit.humidity.usual


@dataclass(frozen=True)
class Gap:
    """How far ours lies from BDF: cores in K, moments in s; and what BDF took, ms."""

    core_k: float
    wrap_s: float
    pull_s: float
    bdf_ms: float


def gap(cook: Cook) -> Gap:
    """The middle member by both solvers."""
    chosen = parameters()
    members = ensemble(cook, middle(chosen), chosen)
    legs, trace = legs_of(cook, members), Trace([], [], [])
    course = run(members, constants(chosen), trace)
    seconds, core = np.array(trace.seconds)[:, 0], np.array(trace.core)[:, 0]
    began = perf_counter()
    theirs, switches = stiff.course(piece_of(cook, members), legs, cook.start_c, seconds)
    spent = 1000.0 * (perf_counter() - began)
    rests = sum(rest is not None for rest in (cook.rest, cook.rest and cook.rest.then))
    return Gap(
        core_k=float(np.nanmax(np.abs(core - theirs))),
        wrap_s=float(course.wrapped_s[0] - switches[0]) if cook.wrap else 0.0,
        pull_s=float(course.pulled_s[0] - switches[-1 - rests]),
        bdf_ms=spent,
    )
