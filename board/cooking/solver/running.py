"""Members under way: everything about those still cooking, and what is written down of them."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from board.cooking.physics.loss import lost_share
from board.cooking.solver.columns import Constants, Meat, State, Surroundings
from board.cooking.solver.ensemble import CAP_S, Aims
from board.cooking.solver.pit_airs import PitAirs

Floats = NDArray[np.float64]
Indices = NDArray[np.intp]


@dataclass(slots=True)
class Course:
    """What happened to each member.

    Seconds of wrapping (NaN: never) and of the pull (the cap for one that never comes), its core then,
    °C, the share of its mass lost by then, and its highest core since, °C.
    """

    wrapped_s: Floats
    pulled_s: Floats
    pulled_c: Floats
    lost: Floats
    peak_c: Floats
    reached: NDArray[np.bool_]

    @classmethod
    def blank(cls, members: int) -> "Course":
        """Nothing has happened yet."""
        never, unknown = np.full(members, CAP_S), np.full((4, members), np.nan)
        wrapped_s, pulled_c, lost, peak_c = unknown
        return cls(wrapped_s, never, pulled_c, lost, peak_c, np.zeros(members, bool))


@dataclass(slots=True)
class Trace:
    """Each step of each member: seconds, core and surface (°C), share lost; a row a step, NaN once over."""

    seconds: list[Floats]
    core: list[Floats]
    surface: list[Floats]
    lost: list[Floats] = field(default_factory=list)

    def note(self, now: "Running", who: Indices, members: int, fixed: Constants) -> None:
        """Add a row for some of those running."""
        for rows, values in (
            (self.seconds, now.state.seconds),
            (self.core, now.core_c()),
            (self.surface, now.state.celsius[-1]),
            (self.lost, lost_share(now.state, now.meat, fixed)),
        ):
            row = np.full(members, np.nan)
            row[now.ids[who]] = values[who]
            rows.append(row)


@dataclass(slots=True)
class Running:
    """The members still cooking: their place in the whole, and everything about them."""

    ids: Indices
    phase: Indices
    moved: NDArray[np.bool_]
    landing: NDArray[np.bool_]
    meat: Meat
    places: Surroundings
    around: Surroundings
    state: State
    aims: Aims
    pit_air: PitAirs

    def core_c(self) -> Floats:
        """Cores as a probe would read them: wet meat stays at boiling, which the sums pass by a hair."""
        return np.asarray(np.minimum(self.state.celsius[0], self.meat.boiling))

    def only(self, keep: Indices) -> "Running":
        """These members alone."""
        return Running(
            self.ids[keep],
            self.phase[keep],
            self.moved[keep],
            self.landing[keep],
            self.meat.take(keep),
            self.places.take(keep),
            self.around.take(keep),
            self.state.take(keep),
            self.aims.take(keep),
            self.pit_air,
        )
