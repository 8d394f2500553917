"""The timeline as data: each pit's loads as bars in lanes, its fires, its room, the crew and the services."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from itertools import pairwise

from board.house.calendar import named_zone, on_shift
from board.house.spans import TimeSpan
from board.house.wording import count
from board.ledger.state import LoadState
from board.planning.plan import Plan, PlannedLoad
from board.views import names
from board.views.facts import Facts, load_state, pit_at, zone_at
from board.views.likely import likely_times
from board.views.pins import pin_word
from board.views.progress import Revised, Risk
from board.views.reference import ref
from board.views.text import inert

ORDER = "▾"  # stands over the line of an order whose name has no room
_WARM_UP_SHOWN = timedelta(hours=2)  # a fire that burns on from the day before is shown no longer ahead
_MARGIN = timedelta(minutes=30)
_NEARLY_WHOLE = 3  # a word of so many letters is not cut short
_LEAST_LANE = timedelta(hours=1)  # a bar's share of its lane, so that each is seen at every scale


@dataclass(frozen=True, slots=True)
class Bar:
    """One load on the timeline: its times, its lane on the pit, how it stands and whether it is pinned.

    `shorter` are names for where the label has no room, the longest first. `on` and `off` tell that its
    loading and its pull were marked; `planned` are the moments the plan has for what was marked.
    """

    key: str
    label: str
    lane: int
    load_at: datetime
    wrap_at: datetime | None
    pull: TimeSpan
    rested_at: datetime
    needed_at: datetime
    risk: Risk
    pinned: str = ""
    shorter: tuple[str, ...] = ()
    on: bool = False
    off: bool = False
    planned: tuple[datetime, ...] = ()

    @property
    def end(self) -> datetime:
        """When its last portion is due or it has rested, whichever is later."""
        return max(self.needed_at, self.pull.p90, self.rested_at)


@dataclass(frozen=True, slots=True)
class Fire:
    """One stretch a pit is at one setpoint: lit or brought to it, first loaded, last pulled."""

    lit_at: datetime
    loaded_at: datetime
    until: datetime
    setpoint: str
    is_change: bool = False


@dataclass(frozen=True, slots=True)
class Use:
    """A stretch of time in which a fraction of some room is taken."""

    start: datetime
    end: datetime
    fraction: float


@dataclass(frozen=True, slots=True)
class PitRow:
    """One pit: its bars in lanes, its fires, and how much of it is in use when."""

    name: str
    kind: str
    bars: tuple[Bar, ...]
    fires: tuple[Fire, ...]
    use: tuple[Use, ...]

    @property
    def lanes(self) -> int:
        """How many bars lie one under the other at most; at least one."""
        return 1 + max((bar.lane for bar in self.bars), default=0)


@dataclass(frozen=True, slots=True)
class Crew:
    """People on shift together for a stretch."""

    start: datetime
    end: datetime
    people: str


@dataclass(frozen=True, slots=True)
class Mark:
    """A named moment: a service or an order; `shorter` is what it is called where its name has no room."""

    at: datetime
    name: str
    is_order: bool = False
    shorter: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Timeline:
    """Pits down the side, hours across."""

    start: datetime
    end: datetime
    now: datetime
    pits: tuple[PitRow, ...]
    hold: tuple[Use, ...]
    crew: tuple[Crew, ...]
    services: tuple[Mark, ...]


def timeline(facts: Facts, plan: Plan, revised: Revised | None = None) -> Timeline:
    """The timeline of a day's plan, running loads at their likely times now."""
    bars = {load.id: _bar(facts, plan, load, revised) for load in plan.loads}
    start, end = _bounds(plan)
    return Timeline(
        start=start,
        end=end,
        now=facts.now,
        pits=tuple(_pit_row(facts, plan, pit, bars) for pit in facts.house.pits),
        hold=_hold_use(facts, plan, bars),
        crew=tuple(crew(facts, start, end)),
        services=tuple(_marks(plan)),
    )


def _marks(plan: Plan) -> list[Mark]:
    """The services by name, then the moments at which orders are collected."""
    services = [Mark(o.at, inert(o.name)) for o in plan.occasions if not o.is_order]
    taken = {mark.at for mark in services}
    orders: dict[datetime, list[str]] = {}
    for occasion in sorted((o for o in plan.occasions if o.is_order), key=lambda o: (o.at, o.id)):
        if occasion.at not in taken:
            orders.setdefault(occasion.at, []).append(inert(occasion.name))
    return [*services, *(_orders(at, names) for at, names in sorted(orders.items()))]


def _orders(at: datetime, names: list[str]) -> Mark:
    number = len(names)
    shorter = (count(number, "order"), f"{ORDER}{number}" if number > 1 else ORDER, ORDER)
    return Mark(at, f"{ORDER} {names[0]}" if number == 1 else shorter[0], is_order=True, shorter=shorter)


def _bounds(plan: Plan) -> tuple[datetime, datetime]:
    """From the first fire to the end of serving, with a margin."""
    lit = [max(load.light_at, load.load_at - _WARM_UP_SHOWN) for load in plan.loads]
    starts = lit or [o.at - timedelta(hours=12) for o in plan.occasions]
    ends = [o.at for o in plan.occasions] + [load.ready_at.p90 for load in plan.loads]
    if not starts or not ends:
        noon = datetime.combine(plan.day, datetime.min.time(), named_zone(plan.zone))
        return noon, noon + timedelta(hours=24)
    return min(starts) - _MARGIN, max(ends) + 2 * _MARGIN


def _bar(facts: Facts, plan: Plan, load: PlannedLoad, revised: Revised | None) -> Bar:
    state = load_state(facts, load, plan.day)
    likely = likely_times(facts, plan, load, revised)
    meat = names.pieces(facts.house, load)
    return Bar(
        key=ref(plan.day, load.id),
        label=", ".join(filter(None, (meat, _zone(facts, plan, load)))),
        lane=0,
        load_at=state.on_at or load.load_at,
        wrap_at=state.wrapped_at or load.wrap_at,
        pull=likely.pull,
        rested_at=likely.ready.p90,
        needed_at=load.needed_at,
        risk=likely.risk,
        pinned=pin_word(facts, plan, load),
        shorter=_shorter(meat),
        on=state.on_at is not None,
        off=state.pulled_at is not None,
        planned=tuple(_as_planned(state, load)),
    )


def _shorter(meat: str) -> tuple[str, ...]:
    """`6 pork shoulders`, `6 pork sh.`, `6 pork` and `6`."""
    number, first, *more = meat.split()
    cut_short = (f"{number} {first} {more[0][:2]}.",) if more and len(more[0]) > _NEARLY_WHOLE else ()
    return (meat, *cut_short, f"{number} {first}", number)


def _as_planned(state: LoadState, load: PlannedLoad) -> Iterator[datetime]:
    """The planned moments of what was marked, to be seen beside the real ones."""
    if state.on_at is not None:
        yield load.load_at
    if state.pulled_at is not None:
        yield load.pull_at.p50


def _zone(facts: Facts, plan: Plan, load: PlannedLoad) -> str:
    """The zone of its pit a load is in, where that has any."""
    return names.zone_name(facts.house, pit_at(facts, load, plan.day), zone_at(facts, load, plan.day))


def _pit_row(facts: Facts, plan: Plan, pit: str, bars: dict[str, Bar]) -> PitRow:
    here = (load for load in plan.loads if pit_at(facts, load, plan.day) == pit)
    loads = sorted(here, key=lambda load: load.load_at)
    area = facts.house.pits[pit].area_m2
    taken = [(bars[ld.id].load_at, bars[ld.id].pull.p90, ld.area_m2 / area) for ld in loads]
    return PitRow(
        name=names.pit_name(facts.house, pit),
        kind=facts.house.pits[pit].kind.value,
        bars=tuple(in_lanes([bars[load.id] for load in loads])),
        fires=tuple(fires(facts, [load for load in plan.loads if load.pit == pit])),
        use=tuple(use(taken)),
    )


def in_lanes(bars: Iterable[Bar]) -> list[Bar]:
    """Each bar in the first lane that is free when it starts."""
    free: list[datetime] = []
    placed = []
    for bar in sorted(bars, key=lambda b: (b.load_at, b.key)):
        end = max(bar.end, bar.load_at + _LEAST_LANE)
        lane = next((i for i, until in enumerate(free) if until <= bar.load_at), len(free))
        free[lane : lane + 1] = [end]
        placed.append(replace(bar, lane=lane))
    return placed


def fires(facts: Facts, loads: Sequence[PlannedLoad]) -> list[Fire]:
    """The stretches a pit is lit, one for each setpoint in turn."""
    found: list[Fire] = []
    for fire in sorted(_stretches(facts, loads), key=lambda fire: (fire.lit_at, fire.loaded_at)):
        alike = (
            i for i, one in enumerate(found) if one.setpoint == fire.setpoint and fire.lit_at <= one.until
        )
        i = next(alike, None)
        if i is None:
            found.append(fire)
        else:
            found[i] = replace(found[i], until=max(found[i].until, fire.until))
    return [
        replace(fire, is_change=any(one.lit_at < fire.lit_at <= one.until for one in found)) for fire in found
    ]


def _stretches(facts: Facts, loads: Iterable[PlannedLoad]) -> Iterator[Fire]:
    """What each load asks of its pit's fire: one setpoint, or two where it is changed with the load on."""
    for load in loads:
        setpoint, until = names.degrees(facts.house, load.setpoint_c), load.pull_at.p90
        yield Fire(load.light_at, load.load_at, load.turn_at or until, setpoint)
        if load.turn_at is not None and load.then_c is not None:
            yield Fire(load.turn_at, load.turn_at, until, names.degrees(facts.house, load.then_c))


def use(taken: Sequence[tuple[datetime, datetime, float]]) -> list[Use]:
    """How full some room is between each change, from what takes it and for how long."""
    moments = sorted({moment for start, end, _ in taken for moment in (start, end)})
    pieces = []
    for start, end in pairwise(moments):
        fraction = sum(part for a, b, part in taken if a <= start and b >= end)
        if fraction > 0:
            pieces.append(Use(start, end, fraction))
    return pieces


def _hold_use(facts: Facts, plan: Plan, bars: dict[str, Bar]) -> tuple[Use, ...]:
    room = sum(hold.area_m2 for hold in facts.house.holds.values() if hold.setpoint_c is not None)
    if not room:
        return ()
    held = [(ld, bars[ld.id]) for ld in plan.loads if ld.hold]
    return tuple(
        use([(b.rested_at, b.needed_at, ld.area_m2 / room) for ld, b in held if b.needed_at > b.rested_at])
    )


def crew(facts: Facts, start: datetime, end: datetime) -> list[Crew]:
    """Who is on shift, a stretch for each crew, in order of time."""
    together: dict[tuple[datetime, datetime, str], list[str]] = {}
    for person, came, went, name in on_shift(facts.house, start, end):
        together.setdefault((came, went, name), []).append(names.person_name(facts.house, person))
    return [
        Crew(max(came, start), min(went, end), ", ".join(people))
        for (came, went, _), people in sorted(together.items())
        if went > start and came < end
    ]
