"""Simple bodies to hold the solver against: no juice, no evaporation, properties that do not change."""

import numpy as np
from numpy.typing import NDArray

from board.cooking.physics.air import pressure_pa
from board.cooking.physics.parameters import parameters
from board.cooking.physics.places import on_pit
from board.cooking.sampling import middle
from board.cooking.solver.columns import Meat, State, Surroundings
from board.cooking.solver.course import constants
from board.cooking.solver.ensemble import NODES, Bodies, at_rest, ensemble, geometry
from board.cooking.solver.step import advance
from tests.cooking.published import CENTRE_BRISKET, PIT

Floats = NDArray[np.float64]

SEA_LEVEL_PA = 101325.0
FIXED = constants(parameters())
ONE = np.ones(1)


def plain_meat(radius_m: float, g: float, conductivity: float, heat_j_m3k: float, nodes: int = NODES) -> Meat:
    """A body that only conducts: never boils, expels nothing."""
    volume, conductance = geometry(Bodies(radius_m * ONE, g * ONE), nodes)
    return Meat(
        volume=volume,
        depth=radius_m / (g + 1) * ONE,
        conductance=conductance,
        heat=np.array([[heat_j_m3k / 1000.0], [0.0], [0.0]]),
        conductivity=np.array([[conductivity], [0.0], [0.0]]),
        density=1000.0 * ONE,
        water=0.7 * ONE,
        expelled=0.0 * ONE,
        midpoint=60.0 * ONE,
        width=10.0 * ONE,
        lag=2000.0 * ONE,
        wicking=1e-3 * ONE,
        pressure=SEA_LEVEL_PA * ONE,
        boiling=1000.0 * ONE,
        renders=0.0 * ONE,
    )


def plain_air(h: float, air_c: float) -> Surroundings:
    """Air that only convects."""
    none = 0.0 * ONE
    return Surroundings(
        h=h * ONE,
        emissivity=none,
        air_c=air_c * ONE,
        wall_k=(air_c + 273.15) * ONE,
        radiant=none,
        gap_m2k_w=none,
        vapour_pa=none,
        transfer=none,
        wrap_m2s_kg=none,
    )


def core_at(
    meat: Meat, air: Surroundings, start_c: float, seconds: Floats, longest_step_s: float = 60.0
) -> Floats:
    """Core temperatures at given seconds, with steps that grow from 5 s."""
    state = at_rest(start_c * ONE, len(meat.volume) - 1, 0.0)
    cores = []
    for end in seconds:
        state = _until(state, meat, air, float(end), longest_step_s)
        cores.append(state.celsius[0, 0])
    return np.array(cores)


def _until(state: State, meat: Meat, air: Surroundings, end: float, longest_step_s: float) -> State:
    """Advance to a moment exactly."""
    while state.seconds[0] < end - 1e-9:
        step = min(state.step[0] * 1.5, longest_step_s) if state.seconds[0] else 5.0
        state.step = np.array([min(step, end - state.seconds[0])])
        state = advance(state, meat, air, FIXED)
    return state


def brisket_core_at(seconds: float, step: float) -> float:
    """Core of the centre brisket at a moment, by steps that settle at a given length."""
    chosen = parameters()
    members = ensemble(CENTRE_BRISKET, middle(chosen), chosen)
    around = on_pit(PIT, 114.0, middle(chosen), chosen, pressure_pa(0.0))
    state = members.state
    first = 5.0 * step / 200.0
    state.step[:] = first
    state.step_before[:] = first
    while state.seconds[0] < seconds - 1e-6:
        state = advance(state, members.meat, around, constants(chosen))
        grown = min(state.step[0] * 1.5 ** (step / 200.0), step)
        state.step = np.array([min(grown, max(seconds - state.seconds[0], 1e-3))])
    return float(state.celsius[0, 0])
