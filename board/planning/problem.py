"""The planning problem as numbers on a grid: parts to place, pits, people and room."""

from collections.abc import Callable, Hashable, Mapping
from dataclasses import dataclass, field
from typing import Any, TypeVar

from board.house.model import House, Pit, StepRule
from board.planning.cook_times import CookQuestion, CookTime
from board.planning.crew import Crew, Flags
from board.planning.demand import Need
from board.planning.grid import SLOT_MINUTES, Grid, slots_up
from board.planning.joining import Gathering
from board.planning.parts import Share
from board.planning.run import Run, Task
from board.planning.standing import Taken
from board.planning.weights import Weights
from board.planning.windows import Outset

T = TypeVar("T")

# Setpoints closer together than this are the same.
SAME_SETPOINT_K = 0.05


@dataclass(frozen=True)
class Spot:
    """Room on a pit: all of it, or one of its zones. What lies in a higher level may drip on a lower one."""

    id: str
    pit: str
    area_cm2: int
    warmer_k: float = 0.0
    level: int = 0


@dataclass(frozen=True)
class Turn:
    """A change of setpoint with the meat on: in the slot `after` the end of loading, to `setpoint_c`."""

    after: int
    setpoint_c: float


@dataclass(frozen=True)
class Phase:
    """Slots in which a load asks its pit for one setpoint, as a half-open span."""

    begin: int
    end: int
    setpoint_c: float


@dataclass(frozen=True)
class Kept:
    """Where a committed plan has a part: moving it from there costs, by the load and by the minute.

    `load` is the id of the committed load, which it keeps wherever it goes; `spot` its zone or whole pit,
    in which moving costs nothing.
    """

    pit: str
    setpoint_c: float
    start: int
    load: str = ""
    spot: str = ""


@dataclass(frozen=True, slots=True)
class Mode:
    """One way to cook a part: a spot on a pit, a setpoint, its lengths in slots and the starts allowed.

    `d10`, `d50`, `d90` and `dq` (the chance it must reach) count from the end of loading; `wrap` is the
    usual slot of wrapping on the same count. `starts` is ascending. `turn` changes the setpoint on the way.
    `work_points` is what the hands it takes are worth; `openings` how often its lengths reckon with the
    door being opened for other meat.
    """

    pit: str
    spot: str
    setpoint_c: float
    cook: CookTime
    d10: int
    d50: int
    d90: int
    dq: int
    wrap: int | None
    starts: tuple[int, ...]
    turn: Turn | None = None
    work_points: float = 0.0
    openings: int = 0


@dataclass(frozen=True)
class Part:
    """A share of a need that goes on one pit together, all lengths in slots.

    `worth` is what is due in plates of meat, where a whole bird counts for all it feeds. `ready_by` is
    the slot by which it must be rested for its first occasion, finishing work still to come; it waits
    until `wait_until` for its last. `quantile` is the chance it must be ready with. `kept` is its place in a
    committed plan; a `pinned` part has that place only. `wait_points` is what it costs that some of it waits
    for a later occasion than its first.
    """

    id: str
    share: Share
    worth: float
    area_cm2: int
    load: int
    wrap: int
    pull: int
    rest_min: int
    rest_max: int
    hold_max: int
    ready_by: int
    wait_until: int
    modes: tuple[Mode, ...]
    quantile: float
    finish: tuple[StepRule, ...] = ()
    kept: Kept | None = None
    pinned: bool = False
    wait_points: float = 0.0

    @property
    def need(self) -> Need:
        """The need it serves."""
        return self.share.need

    @property
    def pieces(self) -> int:
        """Its whole pieces."""
        return self.share.pieces

    @property
    def portions(self) -> int:
        """The portions it usually gives."""
        return self.share.portions

    @property
    def due(self) -> int:
        """The promised portions that fall on it."""
        return self.share.due

    @property
    def services(self) -> tuple[str, ...]:
        """The occasions those portions are for."""
        return tuple(dict.fromkeys(due.occasion.id for due in self.share.serves))


@dataclass(frozen=True)
class PitRoom:
    """A pit on the grid: its fire, and the slots in which it cannot burn.

    `change_over` is how long bringing it to another setpoint takes, hot. A slot of burning costs
    `fuel_points`, the `tend_points` of whoever watches it among them.
    """

    pit: Pit
    area_cm2: int
    warm: int
    change_over: int
    light: int
    fuel_points: int
    tend_percent: int
    shut: Flags
    tend_points: int = 0


@dataclass(frozen=True)
class Hopeless:
    """Why a part has no start at all, and what would give it one."""

    why: str
    cures: tuple[str, ...] = ()


@dataclass(frozen=True)
class Frame:
    """The house on a grid: what every part is built against, and what all parts share.

    `quantiles` is the chance each load of an occasion must reach so that the occasion reaches its own.
    `openings` is how often a part on a pit, by their ids, is reckoned to see its door opened for other meat.
    """

    house: House
    grid: Grid
    crew: Crew
    pits: dict[str, PitRoom]
    spots: dict[str, Spot]
    times: dict[CookQuestion, CookTime]
    offers: dict[str, tuple[float, ...]]
    weights: Weights
    outset: Outset
    bench_cm2: int
    hold_cm2: int
    taken: Taken
    quantiles: Mapping[str, float] = field(default_factory=dict)
    openings: Mapping[tuple[str, str], int] = field(default_factory=dict)
    # loads alike share their modes, modes alike their starts
    known: dict[Hashable, Any] = field(default_factory=dict, init=False, repr=False, compare=False)

    def once(self, asked: Hashable, make: Callable[[], T]) -> T:
        """What `make` gives for a question, worked out the first time it is asked."""
        if asked not in self.known:
            self.known[asked] = make()
        found: T = self.known[asked]
        return found


@dataclass(frozen=True)
class Problem:
    """The parts to place and the frame they are placed in; `hopeless` tells why a part has none.

    `gatherings` are other ways to cut what is due into parts.
    """

    frame: Frame
    parts: tuple[Part, ...]
    hopeless: dict[str, Hopeless] = field(default_factory=dict)
    gatherings: tuple[Gathering, ...] = ()

    @property
    def needs(self) -> tuple[Need, ...]:
        """The needs its parts are of, each once."""
        return tuple({id(part.need): part.need for part in self.parts}.values())


@dataclass(frozen=True)
class Placed:
    """Where and when a part cooks: its mode, the slot loading begins, and its rest in slots."""

    mode: Mode
    start: int
    rest: int


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


def resting(part: Part, at: Placed) -> tuple[int, int]:
    """The slots in which a placed part rests on the bench, as a half-open span."""
    off = off_slot(part, at)
    return off, off + at.rest


def holding(part: Part, at: Placed) -> tuple[int, int]:
    """The slots in which it waits in the hold until its last occasion, as a half-open span."""
    rested = off_slot(part, at) + at.rest
    return rested, max(rested, part.wait_until)


def cooking(part: Part, at: Placed) -> tuple[int, int]:
    """The slots in which its spot is taken: from loading until the slowest piece is off, half open."""
    return at.start, on_slot(part, at) + at.mode.d90


def phases(part: Part, at: Placed) -> tuple[Phase, ...]:
    """What a placed part asks of its pit's fire, in order: one setpoint, or two with the meat on."""
    begin, end = cooking(part, at)
    turn = at.mode.turn
    if turn is None:
        return (Phase(begin, end, at.mode.setpoint_c),)
    middle = on_slot(part, at) + turn.after
    return (Phase(begin, middle, at.mode.setpoint_c), Phase(middle, end, turn.setpoint_c))


def tasks(part: Part, at: Placed) -> tuple[Task, ...]:
    """The hands a placed part asks for on the pit: loading, wrapping where it is wrapped, pulling."""
    on, off = on_slot(part, at), off_slot(part, at)
    found = [Task("load", at.start, on), Task("pull", off, off + part.pull)]
    if at.mode.wrap is not None:
        found.insert(1, Task("wrap", on + at.mode.wrap, on + at.mode.wrap + part.wrap))
    return tuple(found)


def points(problem: Problem, solution: Assignment) -> float:
    """What a solution costs, in points: the sum the solver minimises."""
    return sum(part_points(problem, part, solution.placed.get(part.id)) for part in problem.parts) + sum(
        run_points(problem, pit, run) for pit, runs in solution.runs.items() for run in runs
    )


def part_points(problem: Problem, part: Part, at: Placed | None) -> float:
    """What one part costs where it is placed, or unserved."""
    if at is None:
        return problem.frame.weights.unserved_portion * part.worth
    soon = late_points(problem, part, at) + thin_points(problem, part, at)
    kept = held_points(problem, part, at) + at.mode.work_points
    return soon + kept + moved_points(problem, part, at.mode, at.start)


def late_points(problem: Problem, part: Part, at: Placed) -> float:
    """What it costs that a part is likelier than not after its time, by the portion and the minute."""
    w = problem.frame.weights
    late = max(0, off_slot(part, at) + part.rest_min - part.ready_by) * SLOT_MINUTES
    return part.worth * (w.late_portion * (late > 0) + w.late_portion_minute * late)


def thin_points(problem: Problem, part: Part, at: Placed) -> float:
    """What it costs that a part falls short of the chance it must reach, by the minute."""
    sure = on_slot(part, at) + at.mode.dq + part.rest_min
    thin = max(0, sure - part.ready_by) * SLOT_MINUTES
    return problem.frame.weights.thin_portion_minute * part.worth * thin


def held_points(problem: Problem, part: Part, at: Placed) -> float:
    """What it costs that a part waits for its guests longer than they would not notice."""
    spare = part.ready_by - off_slot(part, at) - part.rest_min
    over = max(0, spare - easy_slots(problem, part)) * SLOT_MINUTES
    return problem.frame.weights.hold_portion_minute * part.worth * over + part.wait_points


def moved_points(problem: Problem, part: Part, mode: Mode, start: int) -> float:
    """What it costs to cook a part elsewhere or at another time than a committed plan says."""
    if part.kept is None:
        return 0.0
    w, there = problem.frame.weights, part.kept
    same = mode.pit == there.pit and abs(mode.setpoint_c - there.setpoint_c) < SAME_SETPOINT_K
    if same and start == there.start:
        return 0.0
    return w.moved_load + w.moved_minute * abs(start - there.start) * SLOT_MINUTES + w.moved_pit * (not same)


def easy_slots(problem: Problem, part: Part) -> int:
    """The spare no guest would notice: a longer rest within the rules, or the easy hold."""
    return max(slots_up(problem.frame.weights.easy_hold_minutes), part.rest_max - part.rest_min)


def run_points(problem: Problem, pit: str, run: Run) -> float:
    """What one run of a pit costs: fuel while it burns, and the lighting or change-over."""
    room = problem.frame.pits[pit]
    begin = problem.frame.weights.change_over if run.chained else problem.frame.weights.lighting
    return room.fuel_points * (run.end - run.begin) + begin
