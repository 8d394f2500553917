"""Planning problems drawn at random: small houses with kept places, turns and work that stands."""

from dataclasses import replace

from hypothesis import strategies as st

from board.planning.problem import Kept, Turn
from board.planning.run import Task
from tests.planning.by_hand import written
from tests.planning.test_any_house import CREWS, HOLDS, PITS, PORTIONS, rows_of
from tests.planning.test_bound import problem_of

ASKED = PORTIONS.filter(lambda portions: any(portions.values()))
DRAWN = st.tuples(PITS, CREWS, HOLDS, ASKED, st.randoms(use_true_random=False))


def problem_drawn(folder, drawn):
    """The problem of a drawn house; a part in three has a place to keep, a mode in three turns its pit."""
    pits, crew, holds, portions, chance = drawn
    problem = problem_of(written(folder, pits=rows_of(pits), crew=crew, holds=holds), portions)
    parts = tuple(_kept(turned(part, problem, chance), chance) for part in problem.parts)
    tasks = tuple(_task(problem, chance) for _ in range(3))
    taken = replace(problem.frame.taken, tasks=tasks)
    return replace(problem, parts=parts, frame=replace(problem.frame, taken=taken))


def turned(part, problem, chance):
    """The part with a mode in three turning its pit as well."""
    modes = []
    for mode in part.modes:
        modes.append(mode)
        if chance.random() < 1 / 3 and mode.d50 > 2:
            turn = Turn(chance.randrange(1, mode.d50), chance.choice(problem.frame.offers[mode.pit]))
            if abs(turn.setpoint_c - mode.setpoint_c) > 1:
                modes.append(replace(mode, turn=turn))
    return replace(part, modes=tuple(modes))


def _kept(part, chance):
    if chance.random() < 2 / 3 or not any(mode.starts for mode in part.modes):
        return part
    mode = chance.choice([mode for mode in part.modes if mode.starts])
    return replace(part, kept=Kept(mode.pit, mode.setpoint_c, chance.choice(mode.starts)))


def _task(problem, chance):
    begin = chance.randrange(problem.frame.grid.slots - 3)
    return Task(chance.choice(["light", "load", "pull", "wrap"]), begin, begin + 2)
