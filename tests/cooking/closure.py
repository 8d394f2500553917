"""The books of a whole cook: heat and water that came in, went out and stayed, step by step."""

from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from board.cooking.cook import Cook, Rest
from board.cooking.physics.food import food_of
from board.cooking.physics.parameters import parameters
from board.cooking.sampling import middle
from board.cooking.solver.columns import Constants, Indices, State
from board.cooking.solver.course import constants, run
from board.cooking.solver.ensemble import ensemble
from board.cooking.solver.running import Course, Running, Trace
from board.house.model import Work, Wrap, WrapMaterial
from tests.cooking.against import COOKS
from tests.cooking.published import CENTRE_BRISKET, published

Floats = NDArray[np.float64]

JUICE_J_KGK = 4180.0
HOT_ROAST = next(row.cook for row in published() if row.name.startswith("rib roast chart, 2.3"))
EVERYTHING = replace(
    COOKS["brisket, pit falls and is raised"],
    wrap=Wrap(WrapMaterial.PAPER, 70.0, Work()),
    rest=Rest("hold", 120.0),
)
WHOLE = COOKS | {"brisket": CENTRE_BRISKET, "roast": HOT_ROAST, "air, paper and hold": EVERYTHING}


def latent(celsius: Floats) -> Floats:
    """Heat of evaporation, J/kg, of the tables' straight line."""
    return 2.501e6 - 2361.0 * celsius


@dataclass(slots=True)
class Books(Trace):
    """A trace that keeps one member's states, from loading to the end of its rest."""

    states: list[State] = field(default_factory=list)

    def note(self, now: Running, who: Indices, members: int, fixed: Constants) -> None:
        """Keep the state itself, unless the step is taken again."""
        if not self.states or now.state.seconds[0] > self.states[-1].seconds[0]:
            self.states.append(now.state.take(np.zeros(1, dtype=np.intp)))


def kept(cook: Cook) -> tuple[Books, Course]:
    """The middle member's books."""
    chosen, books = parameters(), Books([], [], [])
    course = run(ensemble(cook, middle(chosen), chosen), constants(chosen), books)
    return books, course


def gaps(cook: Cook, books: Books) -> tuple[float, float]:
    """What is missing from the water, kg/m², and from the heat, as a part of what was taken in."""
    chosen = parameters()
    meat = ensemble(cook, middle(chosen), chosen).meat
    mass = (meat.density * meat.volume)[:, 0]
    first, last = books.states[0], books.states[-1]
    expelled = float(mass @ last.expelled[:, 0])
    water = float((first.film + expelled - last.film - last.evaporated - last.dripped)[0])
    out = taken = 0.0
    for before, after in zip(books.states[:-1], books.states[1:], strict=True):
        out += _gone(before, after, mass, float(meat.boiling[0]))
        taken += abs(float((after.heat_in - before.heat_in)[0]))
    heat = food_of(cook.cut.composition).heat
    gained = float(mass @ (_enthalpy(heat, last) - _enthalpy(heat, first))[:, 0])
    return water, (float((last.heat_in - first.heat_in)[0]) - out - gained) / taken


def _gone(before: State, after: State, mass: Floats, boiling_c: float) -> float:
    """Heat that left with vapour, juice and steam in a step, J/m², at its middle temperatures."""
    celsius = 0.5 * (before.celsius + after.celsius)[:, 0]
    vapour = float((after.evaporated - before.evaporated)[0]) * latent(celsius[-1])
    juice = JUICE_J_KGK * celsius[-1] * float(mass @ (after.expelled - before.expelled)[:, 0])
    steam = mass * (after.boiled - before.boiled)[:, 0]
    return float(vapour + juice + steam @ (latent(np.float64(boiling_c)) + JUICE_J_KGK * celsius))


def _enthalpy(heat: tuple[float, ...], state: State) -> Floats:
    """J a kg raw above 0 °C: the integral of heat capacity less the water that has gone."""
    a0, a1, a2 = heat
    celsius, gone = state.celsius, state.expelled + state.boiled
    return a0 * celsius + a1 * celsius**2 / 2 + a2 * celsius**3 / 3 - JUICE_J_KGK * gone * celsius
