"""The same cook gives the same figures on any machine: kept figures, and answers that rounding cannot move.

`BOARD_FIGURES=write python -m pytest tests/cooking/test_reproducible.py` writes the figures anew after a
change to the model or its numbers: read the difference.
"""

import json
import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from board.cooking.cook import AirCurve, Cook, Estimate, Move, PitAir, Rest
from board.cooking.estimate import estimate
from board.cooking.solver.columns import whole
from board.house.library import library_cut
from board.house.model import PitKind, Work, Wrap, WrapMaterial

TABLE = Path(__file__).with_name("figures.json")
PLAINER = """
import json
from tests.cooking.test_reproducible import COOKS, estimate, figures
print(json.dumps({name: figures(estimate([cook], members=16)[0]) for name, cook in COOKS.items()}))
"""
REWRITE = os.environ.get("BOARD_FIGURES") == "write"

FOIL, PAPER = (Wrap(material, 70.0, Work()) for material in (WrapMaterial.FOIL, WrapMaterial.PAPER))
BRISKET = Cook(library_cut("brisket"), 6.5, 3, PitAir.usual(PitKind.OFFSET), 118.0, 94.0)
AIR = AirCurve((0.0, 60.0, 61.0, 70.0, 300.0), (118.0, 118.0, 90.0, 117.0, 121.0))
COOKS = {
    "brisket": BRISKET,
    "brisket, foil, box": replace(BRISKET, wrap=FOIL, rest=Rest("cooler", 120.0)),
    "brisket, moving air, paper by the clock, hold": replace(
        BRISKET, air=AIR, wrap=PAPER, wrap_minute=200.0, rest=Rest("hold", 60.0)
    ),
    "brisket, moved to a cabinet": replace(BRISKET, move=Move(240.0, PitAir.usual(PitKind.CABINET), 130.0)),
    "chicken half, oven, room": Cook(
        library_cut("chicken-half"),
        0.7,
        6,
        PitAir.usual(PitKind.OVEN),
        163.0,
        74.0,
        rest=Rest("room", 20.0),
    ),
    "spare ribs until tender": Cook(
        library_cut("spare-ribs"), 1.6, 8, PitAir.usual(PitKind.CABINET), 135.0, 92.0, tender_minutes=180.0
    ),
    "roast in a hot oven": Cook(
        library_cut("beef-round-roast"), 1.0, 2, PitAir.usual(PitKind.OVEN), 225.0, 70.0
    ),
}


def figures(found: Estimate) -> dict[str, list[float]]:
    """The figures that are kept: 10th percentile, median and 90th of each span."""
    spans = {
        "minutes": found.minutes,
        "wrap_minutes": found.wrap_minutes,
        "loss_percent": found.loss_percent,
        "peak_after_pull_c": found.peak_after_pull_c,
    }
    return {name: [s.p10, s.p50, s.p90] for name, s in spans.items() if s is not None}


@pytest.mark.parametrize("name", COOKS)
def test_figures_are_those_that_were_kept(name: str) -> None:
    """64 members of seed 1 give the kept figures to 1e-9, on whatever machine this is."""
    found = figures(estimate([COOKS[name]], members=64, seed=1)[0])
    if REWRITE:
        table = json.loads(TABLE.read_text(encoding="utf-8")) if TABLE.exists() else {}
        kept = {cook: table[cook] for cook in table if cook in COOKS} | {name: found}
        TABLE.write_text(json.dumps(kept, indent=1) + "\n", encoding="utf-8")
    kept = json.loads(TABLE.read_text(encoding="utf-8"))[name]
    assert found.keys() == kept.keys()
    for what, values in found.items():
        assert values == pytest.approx(kept[what], rel=1e-9), what


@pytest.mark.parametrize("name", COOKS)
@pytest.mark.parametrize("part", [-3e-13, 1e-13, 4e-13])
def test_rounding_does_not_grow(name: str, part: float) -> None:
    """Mass, setpoint, start and end off by some 1e-13 move no member's time by 1e-9."""
    cook = COOKS[name]
    near = [
        replace(cook, **{what: getattr(cook, what) * (1.0 + part)})
        for what in ("mass_kg", "setpoint_c", "until_core_c", "start_c")
    ]
    here, *there = estimate([cook, *near], members=64)
    for other in there:
        np.testing.assert_allclose(other.member_minutes, here.member_minutes, rtol=1e-9)


def test_no_cook_depends_on_its_neighbours() -> None:
    """Asked together or alone, through wraps, moves and rests, every member is the same to the last bit."""
    together = estimate(list(COOKS.values()), members=16)
    for cook, found in zip(COOKS.values(), together, strict=True):
        alone = estimate([cook], members=16)[0]
        assert alone.member_minutes.tobytes() == found.member_minutes.tobytes()
        assert figures(alone) == figures(found)


def test_sums_over_nodes_do_not_depend_on_who_stands_beside() -> None:
    """A column summed alone, from any layout, is the same column summed among others, to the last bit."""
    nodes = np.random.default_rng(0).normal(size=(21, 600)) * 1e3
    for members in (1, 2, 3, 7, 64, 600):
        part = nodes[:, :members]
        for layout in (np.ascontiguousarray(part), np.asfortranarray(part), part):
            assert np.array_equal(whole(layout), whole(nodes)[:members])


def test_a_plainer_processor_gives_the_same_figures() -> None:
    """With every instruction that NumPy could do without switched off, the figures are the same to 1e-9."""
    core = getattr(np, "_core", None) or np.core
    plainer = {"NPY_DISABLE_CPU_FEATURES": " ".join(core._multiarray_umath.__cpu_dispatch__)}
    told = subprocess.run(
        [sys.executable, "-W", "ignore", "-c", PLAINER],
        env=os.environ | plainer,
        capture_output=True,
        text=True,
        check=True,
    )
    there = json.loads(told.stdout)
    for name, cook in COOKS.items():
        for what, values in figures(estimate([cook], members=16)[0]).items():
            assert there[name][what] == pytest.approx(values, rel=1e-9), f"{name}: {what}"
