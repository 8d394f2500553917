"""What is already decided when a day is planned: other days' loads, and those of this one that have begun."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta

import numpy as np
from numpy.typing import NDArray

from board.house.model import House
from board.planning.area import cm2
from board.planning.birds import is_bird
from board.planning.crew import Flags
from board.planning.grid import SLOT_MINUTES, Grid
from board.planning.plan import Draw, Occasion, Plan, PlannedBatch, PlannedLoad, PlannedStep
from board.planning.run import Run, Task

# A stay somewhere: first slot, slot after the last, area in cm².
Stay = tuple[int, int, int]
# The benches or holds a load is shared over, as far as they are known, and how many pieces it is.
Shared = tuple[tuple[str, ...], int]

# Work done at a pit: a plan counts it, and no other, against the fires a crew can watch.
AT_PITS = frozenset({"light", "set", "load", "wrap", "pull"})


@dataclass(frozen=True, slots=True)
class Lit:
    """A pit that burns with no meat of any plan on it: its setpoint, since when, and until when at least.

    `steps` are the planned ones by which it was lit.
    """

    pit: str
    setpoint_c: float
    since: datetime
    until: datetime
    steps: tuple[PlannedStep, ...] = ()


@dataclass(frozen=True, slots=True)
class Standing:
    """Loads, steps and batches that a new plan must leave as they are.

    Their times are the latest known: a load that went on late comes with its later pull. `draws` is what
    standing loads take of batches made for others; `lost` are loads that were planned and are gone, with what
    was made for them.
    """

    loads: tuple[PlannedLoad, ...] = ()
    steps: tuple[PlannedStep, ...] = ()
    batches: tuple[PlannedBatch, ...] = ()
    lit: tuple[Lit, ...] = ()
    draws: tuple[Draw, ...] = ()
    lost: frozenset[str] = frozenset()

    def serving(self, occasions: Sequence[Occasion], planned: Iterable[str] = ()) -> "Standing":
        """The part of it that serves these occasions, its steps and batches with it.

        Args:
            planned: ids of the day's loads that have not begun; batches made for them stay too.
        """
        loads = tuple(ld for ld in self.loads if any(_serves(ld, occasion) for occasion in occasions))
        ids = {load.id for load in loads}
        fires = {(load.pit, load.light_at) for load in loads}
        wanted = ids | set(planned)
        batches = tuple(batch for batch in self.batches if wanted & set(batch.loads))
        made = {batch.id for batch in batches}
        steps = tuple(
            step
            for step in self.steps
            if step.load in ids or step.batch in made or (step.pit, step.at) in fires
        )
        lighting = tuple(step for fire in self.lit for step in fire.steps)
        return Standing(
            loads,
            (*steps, *(step for step in lighting if step not in steps)),
            batches,
            draws=tuple(draw for draw in self.draws if draw.load in ids),
        )


NOTHING = Standing()


def _serves(load: PlannedLoad, occasion: Occasion) -> bool:
    """Whether a load is for this occasion, and not for one of its name on another day."""
    due = load.waves or (load.needed_at,)
    return occasion.id in load.services and any(occasion.at <= at <= occasion.until for at in due)


def standing_of(plans: Sequence[Plan]) -> Standing:
    """Whole plans as what stands."""
    return Standing(
        tuple(load for plan in plans for load in plan.loads),
        tuple(step for plan in plans for step in plan.steps),
        tuple(batch for plan in plans for batch in plan.batches),
        draws=tuple(draw for plan in plans for draw in plan.draws),
    )


@dataclass(frozen=True)
class Taken:
    """What standing loads and steps leave taken on a grid: fires, spots, bench, hold and people.

    `busy` is work given to someone, `at_pits` what of it is done at a pit; `tasks` is
    work of loads that stand whose hands are not named yet.
    `openings` are the slots in which a pit's door is opened for them; `birds` and `others` what lies on a
    spot of each, as spans of slots. `bench_on` and `hold_on` tell where each stay of `bench` and `hold` is;
    `lit` when a fire was lit, by its pit and the slot its run begins in, also before the grid does.
    """

    runs: dict[str, tuple[Run, ...]]
    cooking: dict[str, tuple[Stay, ...]]
    bench: tuple[Stay, ...]
    hold: tuple[Stay, ...]
    busy: Flags
    at_pits: Flags
    tasks: tuple[Task, ...] = ()
    openings: Mapping[str, tuple[int, ...]] = field(default_factory=dict)
    birds: Mapping[str, tuple[Stay, ...]] = field(default_factory=dict)
    others: Mapping[str, tuple[Stay, ...]] = field(default_factory=dict)
    bench_on: tuple[Shared, ...] = ()
    hold_on: tuple[Shared, ...] = ()
    lit: Mapping[tuple[str, int], datetime] = field(default_factory=dict)


def spot_id(pit: str, zone: str | None) -> str:
    """The name of a spot: a zone's after its pit's, or the pit's where it has no zones."""
    return pit if zone is None else f"{pit}/{zone}"


def zone_of(spot: str) -> str | None:
    """The zone of a spot's name, none where it is all of a pit."""
    _, slash, zone = spot.partition("/")
    return zone if slash else None


def left_over(room_cm2: int, slots: int, stays: Sequence[Stay]) -> NDArray[np.int64]:
    """Room left in each slot beside what stands; never less than none."""
    left = np.full(slots, room_cm2, dtype=np.int64)
    for begin, end, area in stays:
        left[begin:end] -= area
    return np.maximum(left, 0)


def taken_on(grid: Grid, house: House, standing: Standing) -> Taken:
    """Lay what stands on a grid; what lies outside the grid takes nothing."""
    loads = [ld for ld in standing.loads if grid.ceil(_gone(ld)) > 0 and grid.floor(ld.light_at) < grid.slots]
    return Taken(
        runs={pit: _runs(grid, _burning(grid, standing, loads, pit)) for pit in house.pits},
        cooking=_by_spot(grid, house, loads),
        bench=tuple(_resting(grid, ld) for ld in loads),
        hold=tuple(_held(grid, ld) for ld in loads),
        busy=_busy(grid, house, standing.steps),
        at_pits=_busy(grid, house, [step for step in standing.steps if step.what in AT_PITS]),
        openings={pit: _openings(grid, [ld for ld in loads if ld.pit == pit]) for pit in house.pits},
        birds=_by_spot(grid, house, [ld for ld in loads if is_bird(house.cuts[ld.cut])]),
        others=_by_spot(grid, house, [ld for ld in loads if not is_bird(house.cuts[ld.cut])]),
        bench_on=tuple(_shared(ld.bench, ld) for ld in loads),
        hold_on=tuple(_shared(ld.hold, ld) for ld in loads),
        lit=_lit(grid, standing, loads),
    )


def _shared(names: str | None, load: PlannedLoad) -> Shared:
    return tuple(names.split(", ")) if names else (), load.pieces


def _lit(grid: Grid, standing: Standing, loads: Sequence[PlannedLoad]) -> dict[tuple[str, int], datetime]:
    """When each fire that still burns was lit: the first moment in the slot its run begins in."""
    fires = [(ld.pit, ld.light_at) for ld in loads if grid.ceil(ld.pull_at.p90) > 0]
    fires += [(fire.pit, fire.since) for fire in standing.lit if grid.ceil(fire.until) > 0]
    found: dict[tuple[str, int], datetime] = {}
    for pit, at in sorted(fires, key=lambda fire: fire[1]):
        found.setdefault((pit, max(0, grid.floor(at))), at)
    return found


def _openings(grid: Grid, loads: Sequence[PlannedLoad]) -> tuple[int, ...]:
    """The slots in which the door of a pit is opened for these loads, for pulls in the next full one."""
    begun = {grid.floor(m) for ld in loads for m in (ld.load_at, ld.wrap_at) if m is not None}
    return tuple(sorted(begun | {grid.ceil(ld.pull_at.p50) for ld in loads}))


def _by_spot(grid: Grid, house: House, loads: Sequence[PlannedLoad]) -> dict[str, tuple[Stay, ...]]:
    """What lies on each spot; a load whose zone is not known may be in any zone of its pit."""
    found: dict[str, tuple[Stay, ...]] = {}
    for pit in house.pits.values():
        here = [ld for ld in loads if ld.pit == pit.id]
        zones: list[str | None] = [zone.id for zone in pit.zones] or [None]
        for zone in zones:
            on = [ld for ld in here if ld.zone == zone or ld.zone not in zones]
            found[spot_id(pit.id, zone)] = tuple(_on(grid, ld) for ld in on)
    return found


def _burning(
    grid: Grid, standing: Standing, loads: Sequence[PlannedLoad], pit: str
) -> list[tuple[int, int, float]]:
    """When a pit burns for what stands, and at which setpoints."""
    fires = [(grid.floor(f.since), grid.ceil(f.until), f.setpoint_c) for f in standing.lit if f.pit == pit]
    return sorted([*(span for ld in loads if ld.pit == pit for span in _burnt(grid, ld)), *fires])


def _runs(grid: Grid, spans: Sequence[tuple[int, int, float]]) -> tuple[Run, ...]:
    """Fires in order; those that touch at one setpoint are one."""
    runs: list[Run] = []
    for begin, end, setpoint in spans:
        last = runs[-1] if runs else None
        if last and begin <= last.end and setpoint == last.setpoint_c:
            runs[-1] = Run(last.begin, max(end, last.end), setpoint, last.chained, known=True)
        elif last and begin <= last.end:
            runs.append(Run(last.end, max(end, last.end), setpoint, chained=True, known=True))
        else:
            runs.append(Run(begin, end, setpoint, known=True))
    return tuple(_inside(grid, run) for run in runs if run.end > 0)


def _burnt(grid: Grid, load: PlannedLoad) -> list[tuple[int, int, float]]:
    """The spans of slots in which a load's fire burns, with the setpoint of each."""
    begin, end = grid.floor(load.light_at), _on(grid, load)[1]
    if load.turn_at is None or load.then_c is None:
        return [(begin, end, load.setpoint_c)]
    turn = grid.floor(load.turn_at)
    return [(begin, turn, load.setpoint_c), (turn, max(turn, end), load.then_c)]


def _inside(grid: Grid, run: Run) -> Run:
    return Run(
        max(0, run.begin), min(run.end, grid.slots), run.setpoint_c, run.chained and run.begin > 0, True
    )


def _on(grid: Grid, load: PlannedLoad) -> Stay:
    begin, end = max(0, grid.floor(load.load_at)), min(grid.slots, grid.ceil(load.pull_at.p90))
    return begin, max(begin, end), cm2(load.area_m2)


def _resting(grid: Grid, load: PlannedLoad) -> Stay:
    off = max(0, grid.floor(load.pull_at.p50))
    return off, max(off, min(grid.slots, grid.ceil(load.pull_at.p50 + _rest(load)))), cm2(load.area_m2)


def _held(grid: Grid, load: PlannedLoad) -> Stay:
    begin = max(0, grid.floor(load.pull_at.p50 + _rest(load)))
    return begin, max(begin, min(grid.slots, grid.ceil(_until(load)))), cm2(load.area_m2)


def _until(load: PlannedLoad) -> datetime:
    """When the last of it is served."""
    return max(load.waves, default=load.needed_at)


def _gone(load: PlannedLoad) -> datetime:
    """When it takes nothing any more: served, and off the pit and rested however late it runs."""
    return max(_until(load), load.pull_at.p90, load.pull_at.p50 + _rest(load))


def _rest(load: PlannedLoad) -> timedelta:
    return timedelta(minutes=load.rest_minutes)


def _busy(grid: Grid, house: House, steps: Sequence[PlannedStep]) -> Flags:
    rows = {person: i for i, person in enumerate(house.people)}
    busy = np.zeros((len(rows), grid.slots), dtype=np.bool_)
    for step in steps:
        if step.who in rows:
            end = max(step.ends_at, step.at + timedelta(minutes=min(step.minutes, SLOT_MINUTES)))
            busy[rows[step.who], max(0, grid.floor(step.at)) : max(0, grid.ceil(end))] = True
    return busy
