"""The planning problem as numbers on a grid: parts to place, pits, people and room."""

from dataclasses import dataclass, field

from board.house.model import Pit, StepRule
from board.planning.cook_times import CookTime
from board.planning.crew import Crew, Flags
from board.planning.demand import Need
from board.planning.grid import SLOT_MINUTES, Grid, slots_up
from board.planning.weights import Weights
from board.planning.windows import Outset


@dataclass(frozen=True)
class Mode:
    """One way to cook a part: a pit, a setpoint, its lengths in slots and the starts allowed.

    `d10`, `d50`, `d90` and `dq` (the wanted chance) count from the end of loading; `wrap` is the
    usual slot of wrapping on the same count. `starts` is ascending.
    """

    pit: str
    setpoint_c: float
    cook: CookTime
    d10: int
    d50: int
    d90: int
    dq: int
    wrap: int | None
    starts: tuple[int, ...]


@dataclass(frozen=True)
class Part:
    """Pieces of one need that go on one pit together, all lengths in slots.

    `due` is how many promised portions fall on it, `portions` how many it usually gives; `worth` is what
    is due in plates of meat, where a whole bird counts for all it feeds.
    `ready_by` is the slot by which it must be rested, finishing work still to come.
    """

    id: str
    need: Need
    pieces: int
    portions: int
    due: int
    worth: float
    services: tuple[str, ...]
    area_cm2: int
    load: int
    wrap: int
    pull: int
    rest_min: int
    rest_max: int
    hold_max: int
    ready_by: int
    modes: tuple[Mode, ...]
    finish: tuple[StepRule, ...] = ()


@dataclass(frozen=True)
class PitRoom:
    """A pit on the grid: its room, its fire, and the slots in which it cannot burn."""

    pit: Pit
    area_cm2: int
    warm: int
    light: int
    fuel_points: int
    tend_percent: int
    shut: Flags


@dataclass(frozen=True)
class Problem:
    """Everything a solver needs, and nothing it does not."""

    grid: Grid
    crew: Crew
    parts: tuple[Part, ...]
    pits: dict[str, PitRoom]
    bench_cm2: int
    hold_cm2: int
    change_over: int
    weights: Weights
    outset: Outset
    hopeless: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Placed:
    """Where and when a part cooks: its mode, the slot loading begins, and its rest in slots."""

    mode: Mode
    start: int
    rest: int


@dataclass(frozen=True)
class Run:
    """A pit burning at one setpoint from slot `begin` to `end`; `chained` follows hot on another run."""

    begin: int
    end: int
    setpoint_c: float
    chained: bool = False


@dataclass(frozen=True)
class Assignment:
    """A solution: each placed part by id, and each pit's runs in order. Parts left out are unserved."""

    placed: dict[str, Placed]
    runs: dict[str, tuple[Run, ...]]


def on_slot(part: Part, at: Placed) -> int:
    """The slot in which the last piece is on the pit: from here the cook is counted."""
    return at.start + part.load


def off_slot(part: Part, at: Placed) -> int:
    """The usual slot of pulling."""
    return on_slot(part, at) + at.mode.d50


def points(problem: Problem, solution: Assignment) -> float:
    """What a solution costs, in points: the sum the solver minimises."""
    return sum(part_points(problem, part, solution.placed.get(part.id)) for part in problem.parts) + sum(
        run_points(problem, pit, run) for pit, runs in solution.runs.items() for run in runs
    )


def part_points(problem: Problem, part: Part, at: Placed | None) -> float:
    """What one part costs where it is placed, or unserved."""
    w = problem.weights
    if at is None:
        return w.unserved_portion * part.worth
    rested = off_slot(part, at) + part.rest_min
    late = max(0, rested - part.ready_by) * SLOT_MINUTES
    thin = max(0, on_slot(part, at) + at.mode.dq + part.rest_min - part.ready_by) * SLOT_MINUTES
    spare = max(0, part.ready_by - rested) * SLOT_MINUTES
    over = max(0, spare - easy_slots(problem, part) * SLOT_MINUTES)
    lateness = w.late_portion * (late > 0) + w.late_portion_minute * late
    kept = w.hold_portion_minute * part.worth * over
    return part.worth * (lateness + w.thin_portion_minute * thin) + kept


def easy_slots(problem: Problem, part: Part) -> int:
    """The spare no guest would notice: a longer rest within the rules, or the easy hold."""
    return max(slots_up(problem.weights.easy_hold_minutes), part.rest_max - part.rest_min)


def run_points(problem: Problem, pit: str, run: Run) -> float:
    """What one run of a pit costs: fuel while it burns, and the lighting or change-over."""
    room = problem.pits[pit]
    begin = problem.weights.change_over if run.chained else problem.weights.lighting
    return room.fuel_points * (run.end - run.begin) + begin
