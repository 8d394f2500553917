"""One step of heat, juice and film through every member at once.

Vertex finite volumes in raw (material) coordinates; ROS2 in time (L-stable for γ = 1 − 1/√2, second order
whatever the Jacobian: Verwer, Spee, Blom & Hundsdorfer 1999). Temperatures, juice and film answer to each
other within the step: between 55 and 78 °C the surface's heat goes where the juice comes from, and a step
that took last step's juice would swing. Properties are frozen at the middle of the step. Each member keeps
its own clock and its own step, so what one does never depends on which others are advanced with it. Arrays
are nodes by members, the core first; fluxes are for a square metre of raw surface.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from board.cooking.physics.surface import Skin, Surface, latent_j_kg
from board.cooking.physics.tenderness import pace
from board.cooking.solver.columns import Constants, Meat, State, Surroundings, whole
from board.cooking.solver.juice import Juice, answer_of, juice_of, shrivelled
from board.cooking.solver.thomas import Factored, Film, Rates, factored

Floats = NDArray[np.float64]

GAMMA = 1.0 - np.sqrt(0.5)
LIMPEST_C = 0.05  # least excess over boiling that the water at hand is spread over
NEAR_BOILING_K = 1.0
APART_K = 0.04  # from the first-order answer of the same stages, in any node under the surface
CAUTION = 0.9
LEAST_GROWTH, MOST_GROWTH = 0.3, 1.5


@dataclass(slots=True)
class Frozen:
    """A step's coefficients, taken at its middle.

    `mass` kg/m² and `capacity` J/(m² K) a node; `across` W/(m² K) a face; `boil` W/(m² K) a node, None where
    nothing is near boiling; `shrunk` the shrinkage in length.
    """

    mass: Floats
    capacity: Floats
    across: Floats
    boil: Floats | None
    shrunk: Floats


@dataclass(slots=True)
class Start:
    """Juice at the start of the step, and its slopes: with a node's temperature, with what arrives.

    `slower` is by how much juice that leaves within the step lessens its own rate.
    """

    juice: Juice
    answer: Floats
    wetter: Floats
    slower: Floats


@dataclass(slots=True)
class Stage:
    """One stage of a step: what the surface and boiling take, and the rates that leads to.

    `wetted` is the juice that stays on the surface, its slope in the step included, kg/(m² s).
    """

    surface: Surface
    boiling: Floats
    celsius: Floats
    expelled: Floats
    film: Floats
    wetted: Floats


def advance(state: State, meat: Meat, around: Surroundings, fixed: Constants) -> State:
    """The state one step on; each member goes its own `step`."""
    mass = meat.volume * meat.density
    share = shrivelled(state.celsius, meat)
    juice = juice_of(share, state.expelled + state.boiled, meat, mass)
    start = Start(
        juice=juice,
        answer=answer_of(share, juice, meat),
        wetter=juice.wetter(meat),
        slower=1.0 + GAMMA * state.step / meat.lag,
    )
    frozen = _freeze(state, meat, fixed, mass, juice)
    return _Step(state, Skin(meat, around, fixed, frozen.shrunk), frozen, start).taken()


def _freeze(state: State, meat: Meat, fixed: Constants, mass: Floats, juice: Juice) -> Frozen:
    """The step's coefficients, from what the last step says of its middle."""
    middle = state.celsius - state.celsius_before
    middle *= 0.5 * state.step / state.step_before
    middle += state.celsius
    lost = juice.rate * (0.5 * state.step)
    lost += state.expelled
    lost += state.boiled
    shrunk = _shrinkage(lost, meat)
    hot = (middle.max(axis=0) > meat.boiling - NEAR_BOILING_K) | (state.boiled[-1] > 0.0)
    across = _conductance(state, meat, fixed, middle, bool(hot.any()))
    across *= shrunk
    return Frozen(
        mass=mass,
        capacity=_capacity(meat, fixed, mass, middle, lost),
        across=across,
        boil=_boil(state, meat, fixed, middle, juice) * hot if hot.any() else None,
        shrunk=shrunk,
    )


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


def _capacity(meat: Meat, fixed: Constants, mass: Floats, middle: Floats, lost: Floats) -> Floats:
    """Heat capacity of each cell, J/(m² K), less the water that has gone."""
    capacity = _polynomial(meat.heat, middle)
    capacity -= fixed.juice_heat * lost
    capacity *= mass
    return capacity


def _boil(state: State, meat: Meat, fixed: Constants, middle: Floats, juice: Juice) -> Floats:
    """The pull of the boiling point on wet meat, W/(m² K) a node; never more than its water allows."""
    water = np.maximum(meat.water - state.expelled - state.step * juice.rate - state.boiled, 0.0)
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
    start: Start

    def taken(self) -> State:
        """The state after the step, with what has gone by booked from the same two stages."""
        state, dt = self.state, self.state.step
        surface = self.skin.exchange(state.celsius[-1], state.film)
        solver, boil_slope = self._factored(surface)
        one = self._stage(solver, surface, self.start.juice, state.celsius, None)
        two = self._second(solver, one)
        celsius = self._added(state.celsius, one.celsius, two.celsius)
        expelled = self._added(state.expelled, one.expelled, two.expelled)
        film = state.film + dt * (1.5 * one.film + 0.5 * two.film)
        held = np.maximum(film, 0.0)
        arrived = whole((expelled - state.expelled) * self.frozen.mass)
        wetted, heat, drip = self._booked(surface, one, two)
        return State(
            celsius=celsius,
            celsius_before=state.celsius,
            expelled=expelled,
            boiled=self._boiled(one, two, boil_slope),
            film=held,
            seconds=state.seconds + dt,
            step=dt.copy(),
            step_before=dt.copy(),
            step_wanted=self._wanted(one, two),
            heat_in=state.heat_in + heat,
            evaporated=state.evaporated + (state.film - held + wetted - drip),
            dripped=state.dripped + drip + (arrived - wetted),
            tender=state.tender + dt * pace(0.5 * (state.celsius[0] + celsius[0])),
        )

    def _second(self, solver: Factored, one: Stage) -> Stage:
        """The second stage, from where the first stage's rates would lead."""
        state, dt, meat = self.state, self.state.step, self.skin.meat
        celsius, gone = dt * one.celsius, dt * one.expelled
        celsius += state.celsius
        gone += state.expelled
        gone += state.boiled
        juice = juice_of(shrivelled(celsius, meat), gone, meat, self.frozen.mass)
        surface = self.skin.exchange(celsius[-1], state.film + dt * one.film)
        return self._stage(solver, surface, juice, celsius, one)

    def _stage(
        self, solver: Factored, surface: Surface, juice: Juice, celsius: Floats, first: Stage | None
    ) -> Stage:
        """Solve one stage at given temperatures; the second takes twice the first's rates off."""
        right = _flow(celsius, self.frozen, juice, self.skin.fixed)
        right[-1] += surface.heat
        boiling = self._boiling(celsius)
        right -= boiling
        rate, arriving = juice.rate, juice.arriving
        film_right = -surface.vapour.rate - surface.drip
        if first is not None:
            twice = self.frozen.capacity * first.celsius
            twice *= 2.0
            right -= twice
            rate = rate - 2.0 * first.expelled
            arriving = whole(rate * self.frozen.mass)
            film_right -= 2.0 * first.film
        wetted = juice.wetting(self.skin.meat) - self._spent() * arriving
        rates = solver.solve(right, film_right + wetted)
        expelled = self._expelled(rate, rates)
        return Stage(surface, boiling, rates.nodes, expelled, rates.film, wetted + rates.fed)

    def _spent(self) -> Floats:
        """How much less juice wets the surface for a unit arriving, as it leaves within the step."""
        g, start = GAMMA * self.state.step, self.start
        return np.asarray(start.wetter * g / (start.slower * self.skin.meat.lag))

    def _expelled(self, rate: Floats, rates: Rates) -> Floats:
        """Each node's rate of expelling, 1/s, once its warming and its own loss within the step are in."""
        expelled = self.start.answer * rates.nodes
        expelled *= GAMMA * self.state.step
        expelled += rate
        expelled /= self.start.slower
        return np.asarray(expelled)

    def _factored(self, surface: Surface) -> tuple[Factored, Floats]:
        """The factored step matrix, and boiling's slope with temperature."""
        frozen, start, g = self.frozen, self.start, GAMMA * self.state.step
        carried = start.juice.outward[:-1] * (0.5 * self.skin.fixed.juice_heat)
        above, below = carried - frozen.across, carried + frozen.across
        above *= g
        below *= -g
        diagonal = frozen.capacity.copy()
        diagonal[:-1] -= above
        diagonal[1:] -= below
        diagonal[-1] -= g * surface.heat_slope_c
        slope = np.zeros(1)
        if frozen.boil is not None:
            slope = frozen.boil * (self.state.celsius > self.skin.meat.boiling)
            diagonal += g * slope
        fed = frozen.mass * start.answer
        fed *= g * start.wetter / start.slower
        film = Film(
            divisor=1.0 + g * (surface.vapour.slope_film + surface.drip_slope),
            pull=g * surface.vapour.slope_c,
            juice=fed,
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
        return np.asarray(self.state.boiled + heat / (self.frozen.mass * latent_j_kg(meat.boiling)))

    def _booked(self, surface: Surface, one: Stage, two: Stage) -> tuple[Floats, Floats, Floats]:
        """Juice that stayed on the surface, heat taken in and film that dripped, over the step."""
        g = GAMMA * self.state.step
        slope_c, slope_film = g * surface.warmth.slope_c, g * surface.drip_slope
        heat = self._sum(
            one.surface.warmth.gained + slope_c * one.celsius[-1],
            two.surface.warmth.gained + slope_c * two.celsius[-1],
        )
        drip = self._sum(one.surface.drip + slope_film * one.film, two.surface.drip + slope_film * two.film)
        return self._sum(one.wetted, two.wetted), heat, drip

    def _wanted(self, one: Stage, two: Stage) -> Floats:
        """The step its error suggests next, s: from how far the first-order answer lies, under the surface.

        At the surface the film holds the temperature, and the two answers differ by more than either's error.
        """
        apart = one.celsius[:-1] + two.celsius[:-1]
        np.abs(apart, out=apart)
        far = apart.max(axis=0) * (0.5 * self.state.step)
        growth = CAUTION * np.sqrt(APART_K / np.maximum(far, 1e-12))
        return np.asarray(self.state.step * np.minimum(np.maximum(growth, LEAST_GROWTH), MOST_GROWTH))

    def _added(self, start: Floats, first: Floats, second: Floats) -> Floats:
        """A start and both stages' rates over the step: start + dt (3/2 first + 1/2 second)."""
        total = first * 3.0
        total += second
        total *= 0.5 * self.state.step
        total += start
        return np.asarray(total)

    def _sum(self, first: Floats, second: Floats) -> Floats:
        """What a quantity that only accumulates gains in the step, its stages' slopes included."""
        return np.asarray((0.5 * self.state.step) * (first + second))


def _flow(celsius: Floats, frozen: Frozen, juice: Juice, fixed: Constants) -> Floats:
    """Heat into each node from its neighbours, with the juice that passes."""
    apart = celsius[1:] - celsius[:-1]
    carried = juice.outward[:-1] * apart
    carried *= 0.5 * fixed.juice_heat
    apart *= frozen.across
    flow = np.empty_like(celsius)
    np.subtract(apart, carried, out=flow[:-1])
    flow[-1] = 0.0
    apart += carried
    flow[1:] -= apart
    return flow
