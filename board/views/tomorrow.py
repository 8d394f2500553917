"""The Tomorrow view: a day's plan on the timeline, its loads, one load's chain and account, what is short."""

from dataclasses import dataclass, replace
from datetime import date, timedelta

from board.house.model import House
from board.house.units import format_mass
from board.house.wording import count, day_name, duration
from board.planning.asked import is_turned_by
from board.planning.plan import Plan, PlannedLoad, PlannedStep
from board.views import names, worth
from board.views.cooked import all_by_pull, cooked_cell
from board.views.days import when, when_short
from board.views.empty_day import nothing_planned
from board.views.facts import Facts, find_load
from board.views.likely import likely_times
from board.views.pins import pin_says, pin_word, stray_pins, stray_says, stray_wish_says, stray_wishes
from board.views.progress import Progress, Revised, Risk
from board.views.promises import Promise, promises
from board.views.reference import parts, ref
from board.views.steps import say
from board.views.text import Cell, inert
from board.views.timeline import Timeline, timeline


@dataclass(frozen=True, slots=True)
class LoadLine:
    """One planned load in a line."""

    key: str
    meat: str
    pit: str
    setpoint: str
    load: str
    ready: str
    needed: str
    spare: str
    chance: str
    risk: Risk
    pinned: str


@dataclass(frozen=True, slots=True)
class Link:
    """One step of a load's chain."""

    what: str
    clock: str
    says: str
    minutes: str
    who: str
    clock_short: str = ""


@dataclass(frozen=True, slots=True)
class Account:
    """One load: what its pin asks for, its chain, why it is loaded when it is, and how it is cooked safe."""

    key: str
    title: str
    aside: str
    pinned: str
    chain: tuple[Link, ...]
    why_title: str
    why: tuple[str, ...]
    cooked: Cell | None = None


@dataclass(frozen=True, slots=True)
class Lack:
    """What a serving time will be short of, why, and what would cure it."""

    says: str
    why: str
    cures: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Tomorrow:
    """The whole view, in plain values and sentences."""

    day: date
    day_name: str
    standing: str
    surety: str
    nearness: str
    timeline: Timeline
    loads: tuple[LoadLine, ...]
    account: Account | None
    lacks: tuple[Lack, ...]
    unsure: tuple[str, ...]
    cautions: tuple[str, ...]
    chances: tuple[str, ...]
    costs: tuple[str, ...]
    promises: tuple[Promise, ...]
    safe: str = ""


def tomorrow(
    facts: Facts,
    day: date,
    *,
    draft: Plan | None = None,
    selected: str = "",
    revised: Revised | None = None,
) -> Tomorrow:
    """The Tomorrow view of one day: the draft where there is one, else the committed plan."""
    committed = facts.plans.get(day)
    plan = draft or committed or nothing_planned(facts, day)
    return Tomorrow(
        day=day,
        day_name=day_name(day),
        standing=_standing(draft, committed),
        surety=worth.surety(plan),
        nearness=worth.nearness(plan),
        timeline=timeline(facts, plan, revised),
        loads=tuple(_load_lines(facts, plan, revised)),
        account=account(facts, plan, selected),
        lacks=tuple(_lacks(facts, plan)),
        unsure=tuple(worth.unsure(plan)),
        cautions=(
            *(stray_says(facts, pin) for pin in stray_pins(facts, plan)),
            *(stray_wish_says(wish) for wish in stray_wishes(facts, plan)),
            *(inert(says) for says in plan.cautions),
        ),
        chances=tuple(worth.chances(plan, facts.house)),
        costs=tuple(worth.costs(plan, facts.house)),
        promises=promises(facts, plan),
        safe=all_by_pull(plan),
    )


def with_account(view: Tomorrow, facts: Facts, plan: Plan | None, selected: str) -> Tomorrow:
    """The same view with another load chosen: all else of it does not hang on which."""
    return replace(view, account=account(facts, plan, selected) if plan else None)


def _standing(draft: Plan | None, committed: Plan | None) -> str:
    if draft is not None:
        return "draft, not committed"
    if committed is not None:
        return "committed"
    return "not planned yet"


def _load_lines(facts: Facts, plan: Plan, revised: Revised | None) -> list[LoadLine]:
    loads = sorted(plan.loads, key=lambda load: (load.load_at, load.id))
    return [_load_line(facts, plan, load, likely_times(facts, plan, load, revised)) for load in loads]


def _load_line(facts: Facts, plan: Plan, load: PlannedLoad, likely: Progress) -> LoadLine:
    house = facts.house
    late = likely.risk is Risk.LATE
    return LoadLine(
        key=ref(plan.day, load.id),
        meat=names.pieces(house, load),
        pit=names.load_spot(house, load),
        setpoint=_setpoint(house, load),
        load=names.clock(house, load.load_at),
        ready=names.clock(house, likely.ready.p50),
        needed=names.clock(house, load.needed_at),
        spare=("late " if late else "") + duration(abs(likely.spare_minutes)),
        chance=f"{round(100 * load.chance)} %",
        risk=likely.risk,
        pinned=pin_word(facts, plan, load),
    )


def _setpoint(house: House, load: PlannedLoad) -> str:
    """What its pit is set to, and then with it on: `107→118°`."""
    first = names.degrees(house, load.setpoint_c)
    return first if load.then_c is None else f"{first.rstrip('°')}→{names.degrees(house, load.then_c)}"


def account(facts: Facts, plan: Plan, key: str) -> Account | None:
    """The chain and the account of the load with that key, or of the first load."""
    load = find_load(plan, parts(key)[1]) if key else None
    load = load or min(plan.loads, key=lambda ld: (ld.load_at, ld.id), default=None)
    if load is None:
        return None
    house = facts.house
    mass = format_mass(load.mass_kg, house.display)
    return Account(
        key=ref(plan.day, load.id),
        title=f"{names.pieces(house, load)} on {names.load_spot(house, load)}",
        aside=mass,
        pinned=pin_says(facts, plan, load),
        chain=tuple(_chain(facts, plan, load)),
        why_title=f"Why {names.clock(house, load.load_at)}",
        why=tuple(inert(line) for line in plan.why.get(load.id, ())) or tuple(_plain_why(facts, load)),
        cooked=cooked_cell(facts, plan, load),
    )


def _chain(facts: Facts, plan: Plan, load: PlannedLoad) -> list[Link]:
    fires = [s for s in plan.steps if s.what == "light" and s.pit == load.pit and s.at <= load.load_at]
    turns = [s for s in plan.steps if s.what == "set" and is_turned_by(load, s.pit, s.at)]
    lighting = [*sorted(fires, key=lambda s: s.at)[-1:], *turns]
    own = [s for s in plan.steps if s.load == load.id and s.what != "light"]
    making = [s for s in plan.steps if s.load is None and s.batch and load.id in _served_by(plan, s.batch)]
    steps = sorted([*making, *lighting, *own], key=lambda s: (s.at, s.id))
    return [*(_link(facts, plan, load, step) for step in steps), *_ends(facts, plan, load)]


def _link(facts: Facts, plan: Plan, load: PlannedLoad, step: PlannedStep) -> Link:
    """One step, without what the chain's title says already."""
    who = names.person_name(facts.house, step.who) or "nobody yet"
    what = inert(step.what)
    rest = say(facts, plan, step).removeprefix(what).strip()
    if step.load is not None:
        rest = rest.removeprefix(names.pieces(facts.house, load)).strip()
    return Link(what, when(facts, step.at), rest, duration(step.minutes), who, when_short(facts, step.at))


def _ends(facts: Facts, plan: Plan, load: PlannedLoad) -> list[Link]:
    """When it is likely ready, and for whom it is needed."""
    house = facts.house
    served = names.listed([inert(o.name) for o in plan.occasions if o.id in load.services])
    span = f"{names.clock(house, load.ready_at.p10)}–{names.clock(house, load.ready_at.p90)}"
    waves = names.listed([names.clock(house, at) for at in load.waves if at > load.needed_at])
    later = f", more at {waves}" if waves else ""
    ready, needed = load.ready_at.p50, load.needed_at
    portions = f"{count(load.portions, 'portion')} for {served}{later}"
    return [
        Link("ready", when(facts, ready), f"likely {span}", "", "", when_short(facts, ready)),
        Link("needed", when(facts, needed), portions, "", "", when_short(facts, needed)),
    ]


def _served_by(plan: Plan, batch_id: str) -> tuple[str, ...]:
    return next((batch.loads for batch in plan.batches if batch.id == batch_id), ())


def _plain_why(facts: Facts, load: PlannedLoad) -> list[str]:
    """The sum in three lines, for a plan that carries no account of its own."""
    house = facts.house
    cook = (load.pull_at.p50 - load.load_at) / timedelta(minutes=1)
    return [
        f"needed at {names.clock(house, load.needed_at)}",
        f"likely {duration(cook)} on the pit, then {duration(load.rest_minutes)} to rest",
        f"so on at {names.clock(house, load.load_at)}: in time {round(100 * load.chance)} times in 100",
    ]


def _lacks(facts: Facts, plan: Plan) -> list[Lack]:
    called = {occasion.id: inert(occasion.name) for occasion in plan.occasions}
    return [
        Lack(
            f"{called.get(short.service, inert(short.service))}: "
            f"{names.item_name(facts.house, short.item)} short {short.portions}",
            inert(short.why),
            tuple(inert(cure) for cure in short.cure),
        )
        for short in plan.short
    ]
