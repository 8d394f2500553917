"""Times of the calls the board makes, and the memory of the longest of them."""

import subprocess
import sys
from dataclasses import replace

import numpy as np

from board.cooking.cook import Cook, PitAir
from board.cooking.estimate import estimate
from board.cooking.physics.parameters import parameters
from board.cooking.readings.revise import revise
from board.cooking.sampling import middle
from board.cooking.solver.course import constants, run
from board.cooking.solver.ensemble import ensemble
from board.cooking.solver.running import Trace
from board.house.library import library_cuts
from board.house.model import PitKind
from tests.bench.cooking.timing import milliseconds
from tests.cooking.published import CENTRE_BRISKET

PIT = PitAir.usual(PitKind.OFFSET)
BRISKET = replace(CENTRE_BRISKET, pit=PIT)
LONG_BRISKET = replace(BRISKET, setpoint_c=107.0)  # about sixteen hours
PEAK = """
from pathlib import Path
from board.cooking.cook import Cook, PitAir
from board.cooking.estimate import estimate
from board.house.library import library_cut
from board.house.model import PitKind
brisket = Cook(library_cut("brisket"), 6.5, 1, PitAir.usual(PitKind.OFFSET), 107.0, 95.0)
estimate([brisket], members=500, curves={curves})
status = Path("/proc/self/status").read_text().splitlines()
print(next(line.split()[1] for line in status if line.startswith("VmHWM")))
"""  # not the resource module's figure, which keeps the parent's from before the exec


def plan_cooks() -> list[Cook]:
    """What a plan asks for: fifty loads of six pieces, mixed cuts, some wrapped."""
    cooks = []
    for cut in library_cuts().values():
        for setpoint in (112.0, 121.0, 135.0):
            wrap = cut.wrap if cut.wrap and cut.wrap.at_core_c < cut.pull_core_c else None
            cooks.append(Cook(cut, cut.mass_kg.usual, 6, PIT, setpoint, cut.pull_core_c, 4.0, wrap))
    return cooks[:50]


def peak_mib(curves: bool) -> float:
    """Peak memory of a process of its own that estimates the long brisket with 500 members."""
    done = subprocess.run(
        [sys.executable, "-c", PEAK.format(curves=curves)], capture_output=True, text=True, check=True
    )
    return float(done.stdout) / 1024.0


def steps_of(cook: Cook) -> int:
    """How many steps the middle member takes."""
    chosen, trace = parameters(), Trace([], [], [])
    run(ensemble(cook, middle(chosen), chosen), constants(chosen), trace)
    return len(trace.seconds) - 1


def report() -> None:
    """Print the times and the memory."""
    cooks = plan_cooks()
    found = estimate([BRISKET], members=500, curves=True)[0]
    readings = [(float(m), 4.0 + 55.0 * (1 - np.exp(-m / 150.0))) for m in range(5, 360, 1)]
    print("What                                             median ms")
    for name, work in (
        ("one brisket at 107 °C (16 h), 500 members", lambda: estimate([LONG_BRISKET], members=500)),
        ("one brisket, 200 members, with curves", lambda: estimate([BRISKET], members=200, curves=True)),
        ("50 mixed cooks, 64 members", lambda: estimate(cooks, members=64)),
        ("a revision by 355 readings, 500 members", lambda: revise(found, readings)),
    ):
        print(f"{name:48s} {milliseconds(work):9.1f}")
    print(f"steps of the long brisket's middle member        {steps_of(LONG_BRISKET):9d}")
    print(f"peak memory of a process that runs it, MiB       {peak_mib(False):9.0f}")
    print(f"the same with curves, MiB                        {peak_mib(True):9.0f}")
