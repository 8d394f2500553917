"""The same problems by general solvers, in the same run, as ratios.

py-pde comes with `pip install -e ".[bench]"`; without it its rows are left out with a word.
"""

from collections.abc import Iterator
from importlib.util import find_spec

import numpy as np

from board.cooking.estimate import estimate
from board.cooking.solver.columns import Meat, Surroundings
from board.cooking.solver.ensemble import at_rest
from board.cooking.solver.step import advance
from tests.bench.cooking.exactness import AIR_C, CONDUCTIVITY, HEAT, RADIUS_M, SECONDS, H, exact
from tests.bench.cooking.timing import milliseconds
from tests.cooking.against import COOKS, gap
from tests.cooking.lab import FIXED, plain_air, plain_meat

MEMBERS = 500
LIBRARY_CELLS = (20, 24, 28, 32, 40, 48)


def against_a_stiff_solver() -> None:
    """Whole cooks against SciPy's BDF on the same equations."""
    print("\nAgainst BDF                          core K  wrap s  pull s   BDF ms  one of 500, ms   ratio")
    for name, cook in COOKS.items():
        found = gap(cook)
        many = milliseconds(lambda cook=cook: estimate([cook], members=MEMBERS), 3) / MEMBERS  # type: ignore[misc]
        print(
            f"{name:36s} {found.core_k:6.3f} {found.wrap_s:7.1f} {found.pull_s:7.1f} {found.bdf_ms:8.0f} "
            f"{many:15.3f} {found.bdf_ms / many:7.0f}"
        )


def sphere(members: int) -> np.ndarray:
    """Cores of a sphere that only conducts, by our steps, at the asked seconds."""
    who = np.zeros(members, dtype=np.intp)
    meat: Meat = plain_meat(RADIUS_M, 2.0, CONDUCTIVITY, HEAT).take(who)
    air: Surroundings = plain_air(H, AIR_C).take(who)
    state, cores = at_rest(5.0 * np.ones(members), len(meat.volume) - 1, 0.0), []
    wanted = state.step
    for end in SECONDS:
        while state.seconds[0] < end - 1e-9:
            state.step = np.minimum(wanted, end - state.seconds)
            cut = state.step < wanted
            state = advance(state, meat, air, FIXED)
            wanted = np.where(cut, wanted, state.step_wanted)
        cores.append(state.celsius[0, 0])
    return np.array(cores)


def library_spheres() -> Iterator[tuple[int, float, float]]:
    """Cells, error (K) and milliseconds of py-pde's own stiff solver on the sphere, compiled beforehand."""
    import pde  # noqa: PLC0415 - asked for by this table alone

    for cells in LIBRARY_CELLS:
        grid = pde.SphericalSymGrid(RADIUS_M, cells)
        outer = {"type": "mixed", "value": H / CONDUCTIVITY, "const": H / CONDUCTIVITY * AIR_C}
        equation = pde.DiffusionPDE(CONDUCTIVITY / HEAT, bc={"r-": {"derivative": 0.0}, "r+": outer})

        def solved(equation=equation, grid=grid, tracker=None):  # type: ignore[no-untyped-def]
            return equation.solve(
                pde.ScalarField(grid, 5.0),
                SECONDS[-1],
                tracker=tracker,
                solver="scipy",
                method="BDF",
                rtol=1e-5,
            )

        kept = pde.MemoryStorage()
        solved(tracker=kept.tracker(600.0))
        rows = np.array(kept.data)
        core = rows[:, 0] + (rows[:, 0] - rows[:, 1]) / 8.0  # a parabola to the middle from the first cells
        yield cells, float(np.abs(core[2:] - exact(2.0)).max()), milliseconds(solved, 3)


def against_a_library() -> None:
    """A conducting sphere by a general PDE library, at the coarsest grid that is as near as ours."""
    ours = float(np.abs(sphere(1) - exact(2.0)).max())
    alone = milliseconds(lambda: sphere(1), 3)
    many = milliseconds(lambda: sphere(MEMBERS), 3) / MEMBERS
    print("\nA conducting sphere for 4 h         error K        ms")
    print(f"ours, one alone                    {ours:8.3f} {alone:9.2f}")
    print(f"ours, one of {MEMBERS}                   {ours:8.3f} {many:9.3f}")
    if find_spec("pde") is None:
        print("py-pde is not installed here: its row is left out")
        return
    for cells, error, spent in library_spheres():
        print(
            f"py-pde, {cells:2d} cells, BDF              {error:8.3f} {spent:9.2f}  {spent / many:6.0f} times"
        )
        if error <= ours:
            break


def report() -> None:
    """Print every table."""
    against_a_stiff_solver()
    against_a_library()
