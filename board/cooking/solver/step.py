"""One step of heat, juice and film through every member at once.

Vertex finite volumes in raw (material) coordinates; ROS2 in time (L-stable for γ = 1 − 1/√2, second order
whatever the Jacobian: Verwer, Spee, Blom & Hundsdorfer 1999), its coefficients frozen at the middle of the
step. Each member keeps its own clock and its own step, so what one does never depends on which others
are advanced with it. Arrays are nodes by members, the core first; fluxes are for a square metre of raw
surface.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from board.cooking.physics.surface import Skin, Surface, latent_j_kg
from board.cooking.physics.tenderness import pace
from board.cooking.solver.columns import Constants, Meat, State, Surroundings, whole
from board.cooking.solver.thomas import Factored, Film, factored

Floats = NDArray[np.float64]

GAMMA = 1.0 - np.sqrt(0.5)
LIMPEST_C = 0.05  # least excess over boiling that the water at hand is spread over
NEAR_BOILING_K = 1.0


@dataclass(slots=True)
class Frozen:
    """A step's coefficients, taken at its middle.

    `capacity` J/(m² K) a node; `up` and `low` the pull of a face on the node inside and outside it,
    W/(m² K); `boil` W/(m² K) a node, None where nothing is near boiling; `wet_in` the juice that
    reaches the film and `drip_in` what drips at once, kg/(m² s).
    """

    capacity: Floats
    up: Floats
    low: Floats
    boil: Floats | None
    wet_in: Floats
    drip_in: Floats


@dataclass(slots=True)
class Stage:
    """One stage of a step: the surface's exchange, the boiling heat, and the rates it leads to."""

    surface: Surface
    boiling: Floats
    celsius: Floats
    film: Floats


def advance(state: State, meat: Meat, around: Surroundings, fixed: Constants) -> State:
    """The state one step on; each member goes its own `step`."""
    middle = state.celsius + (0.5 * state.step / state.step_before) * (state.celsius - state.celsius_before)
    juice = _juice(state, meat, middle)
    frozen, shrunk = _freeze(state, meat, fixed, middle, juice)
    return _Step(state, Skin(meat, around, fixed, shrunk), frozen).taken(juice)


def _juice(state: State, meat: Meat, middle: Floats) -> Floats:
    """Juice expelled in the step (kg/kg), relaxing towards what the temperature asks."""
    wanted = np.exp((meat.midpoint - middle) / meat.width)
    wanted += 1.0
    np.divide(meat.expelled, wanted, out=wanted)
    wanted -= state.boiled
    wanted -= state.expelled
    np.maximum(wanted, 0.0, out=wanted)
    wanted *= -np.expm1(-state.step / meat.lag)
    return wanted


def _freeze(
    state: State, meat: Meat, fixed: Constants, middle: Floats, juice: Floats
) -> tuple[Frozen, Floats]:
    """The step's coefficients and the shrinkage in length, from the middle's temperatures."""
    outward = np.cumsum(juice * meat.volume, axis=0)
    outward *= meat.density / state.step
    arriving = outward[-1]
    wet = arriving / (1.0 + arriving / meat.wicking)
    lost = state.expelled + 0.5 * juice
    lost += state.boiled
    shrunk = _shrinkage(lost, meat)
    hot = (middle.max(axis=0) > meat.boiling - NEAR_BOILING_K) | (state.boiled[-1] > 0.0)
    across = _conductance(state, meat, fixed, middle, bool(hot.any()))
    across *= shrunk
    carried = outward[:-1] * (0.5 * fixed.juice_heat)
    frozen = Frozen(
        capacity=_capacity(meat, fixed, middle, lost),
        up=across - carried,
        low=across + carried,
        boil=_boil(state, meat, fixed, middle, juice) * hot if hot.any() else None,
        wet_in=wet,
        drip_in=arriving - wet,
    )
    return frozen, shrunk


def _shrinkage(lost: Floats, meat: Meat) -> Floats:
    """Length over raw length, when lost water leaves no holes."""
    mean = whole(lost * meat.volume) / meat.depth
    return np.asarray(np.cbrt(1.0 - meat.density / 1000.0 * mean))


def _conductance(state: State, meat: Meat, fixed: Constants, middle: Floats, hot: bool) -> Floats:
    """Heat conductance of each face, W/(m² K); boiled-dry meat insulates."""
    conductivity = _polynomial(meat.conductivity, middle)
    if hot:
        dry = np.clip(state.boiled / (meat.water - state.expelled), 0.0, 1.0)
        conductivity *= 1.0 - (1.0 - fixed.dry_conductivity) * dry
    across = conductivity[1:] + conductivity[:-1]
    across *= meat.conductance
    across *= 0.5
    return np.asarray(across)


def _capacity(meat: Meat, fixed: Constants, middle: Floats, lost: Floats) -> Floats:
    """Heat capacity of each cell, J/(m² K), less the water that has gone."""
    capacity = _polynomial(meat.heat, middle)
    capacity -= fixed.juice_heat * lost
    capacity *= meat.volume
    capacity *= meat.density
    return capacity


def _boil(state: State, meat: Meat, fixed: Constants, middle: Floats, juice: Floats) -> Floats:
    """The pull of the boiling point on wet meat, W/(m² K) a node; never more than its water allows."""
    water = np.maximum(meat.water - state.expelled - juice - state.boiled, 0.0)
    pull = fixed.boil * np.minimum(1.0, water / fixed.boil_dry)
    over = np.maximum(middle - meat.boiling, LIMPEST_C)
    most = water * (meat.density * latent_j_kg(meat.boiling)) / (state.step * over)
    return np.asarray(np.minimum(pull, most) * meat.volume)


def _polynomial(coefficients: Floats, celsius: Floats) -> Floats:
    """a0 + a1 T + a2 T², a member its own coefficients."""
    value = coefficients[2] * celsius
    value += coefficients[1]
    value *= celsius
    value += coefficients[0]
    return np.asarray(value)


@dataclass(slots=True)
class _Step:
    """Two ROS2 stages from one state with one factored matrix."""

    state: State
    skin: Skin
    frozen: Frozen

    def taken(self, juice: Floats) -> State:
        """The state after the step, with what has gone by booked from the same two stages."""
        state, dt = self.state, self.state.step
        surface = self.skin.exchange(state.celsius[-1], state.film)
        solver, boil_slope = self._factored(surface)
        one = self._stage(solver, surface, state.celsius, None)
        ahead_c, ahead_film = state.celsius + dt * one.celsius, state.film + dt * one.film
        two = self._stage(solver, self.skin.exchange(ahead_c[-1], ahead_film), ahead_c, one)
        film = state.film + dt * (1.5 * one.film + 0.5 * two.film)
        held = np.maximum(film, 0.0)
        heat = self._sum(
            one.surface.warmth.gained + surface.warmth.slope_c * (GAMMA * dt * one.celsius[-1]),
            two.surface.warmth.gained + surface.warmth.slope_c * (GAMMA * dt * two.celsius[-1]),
        )
        drip = self._sum(
            surface.drip + surface.drip_slope * (GAMMA * dt * one.film),
            two.surface.drip + surface.drip_slope * (GAMMA * dt * two.film),
        )
        arrived = dt * self.frozen.wet_in
        celsius = self._added(state.celsius, one.celsius, two.celsius)
        return State(
            celsius=celsius,
            celsius_before=state.celsius,
            expelled=state.expelled + juice,
            boiled=self._boiled(one, two, boil_slope),
            film=held,
            seconds=state.seconds + dt,
            step=dt,
            step_before=dt,
            heat_in=state.heat_in + heat,
            evaporated=state.evaporated + (state.film - held + arrived - drip),
            dripped=state.dripped + drip + dt * self.frozen.drip_in,
            tender=state.tender + dt * pace(0.5 * (state.celsius[0] + celsius[0])),
        )

    def _stage(self, solver: Factored, surface: Surface, celsius: Floats, first: Stage | None) -> Stage:
        """Solve one stage at given temperatures; the second takes twice the first's rates off."""
        right = _flow(celsius, self.frozen)
        right[-1] += surface.heat
        boiling = self._boiling(celsius)
        right -= boiling
        film_right = self.frozen.wet_in - surface.vapour.rate - surface.drip
        if first is not None:
            twice = self.frozen.capacity * first.celsius
            twice *= 2.0
            right -= twice
            film_right -= 2.0 * first.film
        return Stage(surface, boiling, *solver.solve(right, film_right))

    def _factored(self, surface: Surface) -> tuple[Factored, Floats]:
        """The factored step matrix, and boiling's slope with temperature."""
        frozen, g = self.frozen, GAMMA * self.state.step
        above, below = frozen.up * -g, frozen.low * -g
        diagonal = frozen.capacity.copy()
        diagonal[:-1] -= above
        diagonal[1:] -= below
        diagonal[-1] -= g * surface.heat_slope_c
        slope = np.zeros(1)
        if frozen.boil is not None:
            slope = frozen.boil * (self.state.celsius > self.skin.meat.boiling)
            diagonal += g * slope
        film = Film(
            divisor=1.0 + g * (surface.vapour.slope_film + surface.drip_slope),
            pull=g * surface.vapour.slope_c,
            feed=g * surface.heat_slope_film,
        )
        return factored(below, diagonal, above, film), slope

    def _boiling(self, celsius: Floats) -> Floats:
        """Heat that boiling takes from each node, W/m²; a node that comes to boil within the step waits.

        Its slope is not in the step's matrix, and so stiff a term taken without it swings ever wider.
        """
        if self.frozen.boil is None:
            return np.zeros(1)
        boiling_c = self.skin.meat.boiling
        over = np.maximum(celsius - boiling_c, 0.0)
        return np.asarray(self.frozen.boil * over * (self.state.celsius > boiling_c))

    def _boiled(self, one: Stage, two: Stage, slope: Floats) -> Floats:
        """Water boiled off by the end of the step, kg/kg raw."""
        if self.frozen.boil is None:
            return self.state.boiled
        g, meat = GAMMA * self.state.step, self.skin.meat
        heat = self._sum(one.boiling + slope * (g * one.celsius), two.boiling + slope * (g * two.celsius))
        return np.asarray(
            self.state.boiled + heat / (meat.volume * (meat.density * latent_j_kg(meat.boiling)))
        )

    def _added(self, start: Floats, first: Floats, second: Floats) -> Floats:
        """A start and both stages' rates over the step: start + dt (3/2 first + 1/2 second)."""
        total = first * 3.0
        total += second
        total *= 0.5 * self.state.step
        total += start
        return np.asarray(total)

    def _sum(self, first: Floats, second: Floats) -> Floats:
        """What a quantity that only accumulates gains in the step, its stages' slopes included."""
        return np.asarray(self.state.step * (1.5 * first + 0.5 * (second - 2.0 * first)))


def _flow(celsius: Floats, frozen: Frozen) -> Floats:
    """Heat into each node from its neighbours, with the juice that passes."""
    apart = np.diff(celsius, axis=0)
    flow = np.zeros_like(celsius)
    np.multiply(frozen.up, apart, out=flow[:-1])
    apart *= frozen.low
    flow[1:] -= apart
    return flow
