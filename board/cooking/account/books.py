"""Single members run together with their heat and water written down at each step."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from board.cooking.cook import Cook
from board.cooking.physics.parameters import Parameters
from board.cooking.physics.surface import latent_j_kg
from board.cooking.sampling import Draws
from board.cooking.solver.columns import Constants, Indices, whole
from board.cooking.solver.course import constants, run
from board.cooking.solver.ensemble import ensemble, joined
from board.cooking.solver.running import Running, Trace

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Case:
    """One cook with one member's draws."""

    cook: Cook
    draws: Draws


@dataclass(frozen=True, slots=True)
class Path:
    """One member from loading to its pull, a row a step.

    Minutes, core (°C), heat taken in and heat gone as steam (J/kg raw), water steamed and dripped and fat
    melted out (kg/kg raw); `wrapped` in minutes, None where it never was; `reached` is false where it never
    came to its end.
    """

    minutes: Floats
    core_c: Floats
    heat: Floats
    steam: Floats
    steamed: Floats
    dripped: Floats
    fat: Floats
    pulled: float
    wrapped: float | None
    reached: bool

    def at(self, values: Floats, minute: float) -> float:
        """One of its rows of values at a minute."""
        return float(np.interp(minute, self.minutes, values))


@dataclass(slots=True)
class _Books(Trace):
    """A trace that also keeps the books of heat (J/m²) and water (kg/m²)."""

    rows: dict[str, list[Floats]] = field(default_factory=dict)

    def note(self, now: Running, who: Indices, members: int, fixed: Constants) -> None:
        """Add a row for some of those running."""
        Trace.note(self, now, who, members, fixed)
        state, mass = now.state, now.meat.density * now.meat.depth
        boiled = whole(state.boiled * now.meat.volume) / now.meat.depth
        kept = {
            "heat": state.heat_in / mass,
            "steamed": state.evaporated / mass,
            "dripped": state.dripped / mass,
            "boiled": boiled,
            "juice": boiled + whole(state.expelled * now.meat.volume) / now.meat.depth,
            "boiling_heat": boiled * latent_j_kg(now.meat.boiling),
        }
        for name, values in kept.items():
            row = np.full(members, np.nan)
            row[now.ids[who]] = values[who]
            self.rows.setdefault(name, []).append(row)


def paths(cases: Sequence[Case], parameters: Parameters) -> list[Path]:
    """Each case's path, all advanced together; rests are left out."""
    parts = [ensemble(replace(case.cook, rest=None), case.draws, parameters) for case in cases]
    books = _Books([], [], [])
    course = run(joined(parts), constants(parameters), books)
    rows = {name: np.array(values) for name, values in books.rows.items()}
    traced = (books.seconds, books.core, books.surface, books.lost)
    seconds, core, surface, lost = (np.array(values) for values in traced)
    found = []
    for i in range(len(cases)):
        on = ~np.isnan(seconds[:, i])
        mine = {name: values[on, i] for name, values in rows.items()}
        wrapped = course.wrapped_s[i] / 60.0
        found.append(
            Path(
                minutes=seconds[on, i] / 60.0,
                core_c=core[on, i],
                heat=mine["heat"],
                steam=_steam_heat(mine["steamed"], surface[on, i]) + mine["boiling_heat"],
                steamed=mine["steamed"] + mine["boiled"],
                dripped=mine["dripped"],
                fat=np.maximum.accumulate(lost[on, i] - mine["juice"]),
                pulled=float(course.pulled_s[i] / 60.0),
                wrapped=None if np.isnan(wrapped) else float(wrapped),
                reached=bool(course.reached[i]),
            )
        )
    return found


def _steam_heat(steamed: Floats, surface_c: Floats) -> Floats:
    """Heat gone into the water evaporated so far, at the surface's own temperatures."""
    middle = 0.5 * (surface_c[1:] + surface_c[:-1])
    return np.concatenate([[0.0], np.cumsum(np.diff(steamed) * latent_j_kg(middle))])
