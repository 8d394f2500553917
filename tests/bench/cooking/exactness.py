"""The sums against exact conduction, and how the error falls with nodes and with steps."""

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from board.cooking.solver.ensemble import NODES
from tests.cooking import bodies
from tests.cooking.closure import WHOLE, gaps, kept
from tests.cooking.lab import brisket_core_at, core_at, plain_air, plain_meat

SECONDS = np.arange(1200.0, 4 * 3600 + 1, 600.0)
RADIUS_M, CONDUCTIVITY, HEAT, H, AIR_C = 0.05, 0.46, 3.45e6, 15.0, 115.0
BODIES = {"slab": 0.0, "cylinder": 1.0, "sphere": 2.0}


def exact(g: float) -> np.ndarray:
    """Core of a body at 5 °C put in air at 115 °C, by its series."""
    series = bodies.series(g, H * RADIUS_M / CONDUCTIVITY)
    return AIR_C - (AIR_C - 5.0) * series.centre(CONDUCTIVITY / HEAT * SECONDS / RADIUS_M**2)


def error(g: float, nodes: int, step_s: float = 15.0) -> float:
    """Largest error of the core after 20 minutes, K."""
    meat = plain_meat(RADIUS_M, g, CONDUCTIVITY, HEAT, nodes)
    return float(np.abs(core_at(meat, plain_air(H, AIR_C), 5.0, SECONDS, step_s) - exact(g)).max())


def orders(values: Sequence[float]) -> str:
    """How fast a row falls with each halving, as powers of two."""
    return " ".join(f"{np.log2(a / b):6.2f}" for a, b in pairwise(values))


def richardson() -> None:
    """Halved cells and halved steps."""
    counts, steps = (10, 20, 40, 80), (200.0, 100.0, 50.0, 25.0, 12.5)
    print(f"\nCore against the exact series after 20 min, K; the board uses {NODES} cells")
    print("cells       " + " ".join(f"{n:8d}" for n in counts) + "   orders")
    for name, g in BODIES.items():
        row = [error(g, n) for n in counts]
        print(f"{name:12s}" + " ".join(f"{e:8.4f}" for e in row) + "   " + orders(row))
    cores = [brisket_core_at(5 * 3600.0, step) for step in steps]
    apart = np.abs(np.diff(cores)).tolist()
    print("\nWhole model, a brisket's core at 5 h: what halving the step changes, K")
    print("step from, s" + " ".join(f"{step:8.4g}" for step in steps[:-1]) + "   orders")
    print("            " + " ".join(f"{e:8.5f}" for e in apart) + "   " + orders(apart))


def closure() -> None:
    """What heat and water whole cooks leave open."""
    print("\nBooks of whole cooks                heat left open   water, kg/m²")
    for name, cook in WHOLE.items():
        water, heat = gaps(cook, kept(cook)[0])
        print(f"{name:36s}{heat:14.1e} {water:14.0e}")


def report() -> None:
    """Print every table."""
    richardson()
    closure()
