"""One reading of the ledger, all of one moment, as the facts that the views are built from."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from itertools import groupby

from board.house.calendar import local
from board.house.model import House
from board.house.past import Sale
from board.house.probes import Silence
from board.house.read_probes import aside, silence_of
from board.ledger import feeding, read
from board.ledger.counted import Counted, counted
from board.ledger.facts import WeighedFacts
from board.ledger.off_pits import days_with_left, set_to_cool
from board.ledger.open import Ledger
from board.ledger.past import past_cooks
from board.ledger.state import OFF_AND_THERE, BatchState, Entry, LoadStage, LoadState, Reading
from board.planning.plan import Plan
from board.views.facts import Done, Facts, Key, Shelved, find_batch
from board.views.ordered import as_ordered
from board.views.taking import own_claims

BEHIND = timedelta(days=1)
LEFT_BEHIND = timedelta(days=7)  # no rule keeps food longer: FDA Food Code 3-501.17
AHEAD = timedelta(days=14)  # a cure is begun so long before its meat is cooked
_LEFT = 0.02  # of a batch: less than that is what sticks to the tub
LOOK_BACK = timedelta(hours=36)
WALK_IN = "walk-in"
LEARN_BACK = timedelta(days=120)
JUST_SIGNED = timedelta(hours=3)
_COOKING = frozenset(
    {LoadStage.ON, LoadStage.WRAPPED, LoadStage.PULLED, LoadStage.RESTING, LoadStage.HOLDING}
)


def gather(ledger: Ledger, house: House, now: datetime, *, ahead: timedelta = AHEAD) -> Facts:
    """Everything the views ask of the ledger at one moment: the near days, and what older cooks teach."""
    today = local(now, house).date()
    first, last = today - BEHIND, today + ahead
    silence = silence_of(house)
    since = (now - LOOK_BACK).replace(minute=0, second=0, microsecond=0)  # the same question for an hour
    with ledger.reading():
        plans = _plans(ledger, read.planned_days(ledger, first, last))
        times = counted(ledger)
        near = {(load.day, load.id): load for load in times.loads(read.load_states(ledger, first, last))}
        left = _left(ledger, times, first)
        loads = {**left, **near}
        written = read.entries(ledger, since=now - LOOK_BACK)
        recent = at_their_times([e for e in written if times.at(e) <= now])
        signed, since_at = handovers(recent, now)
        watches = times.watches(now - LOOK_BACK)
        kept = read.kept_batches(ledger, first, now)
        states = times.batches((*kept, *read.batch_states(ledger, first, last)))
        batches = {(batch.day, batch.id): batch for batch in states}
        sales = {(one.day, one.service, one.item): one for one in read.sales(ledger, first, last)}
        promised = _promises(ledger, first, last)
        changed = tuple(read.occasions(ledger, first, last))
        return Facts(
            house=as_ordered(_with_cooks(ledger, house, today), changed, promised),
            now=now,
            plans=plans,
            loads=loads,
            batches=batches,
            pits=times.pits(read.pit_states(ledger), since, silence),
            done=_done(ledger, first, last),
            readings={
                key: _readings(times, load, silence) for key, load in loads.items() if load.stage in _COOKING
            },
            recent=tuple(recent),
            since=tuple(e for e in recent if since_at is None or e.at > since_at),
            since_at=since_at,
            handover=signed,
            promises=promised,
            sold={key: sale.sold for key, sale in sales.items()},
            sold_out=frozenset(key for key, sale in sales.items() if sale.sold_out_at is not None),
            air=_air(times, near.values(), silence),
            asked=_asked(recent, times),
            pins=tuple(read.pins(ledger, first, last)),
            regroups=tuple(read.regroups(ledger, first, last)),
            occasions=changed,
            watches=tuple(watches),
            watched={watch.id: tuple(times.readings(place=watch.id)) for watch in watches},
            kept=_kept(times, house, since, silence),
            corrected=corrections(recent),
            acted=tuple(replace(e, at=times.at(e)) for e in recent if e.kind == "action" and not e.undone),
            weighed=_weighed(ledger, first, last),
            chilling={key: _chilling(times, one) for key, one in batches.items() if one.made_at is not None},
            uses=tuple(read.uses(ledger, min((one.day for one in kept), default=first), last)),
            shelf=tuple(_shelf(ledger, kept)),
            answers=read.answers(ledger, now - LOOK_BACK),
            began_at=read.began_at(ledger),
            fed=tuple(times.probes(feeding.probe_states(ledger), since, silence)),
            placed=tuple(replace(one, at=times.at(one)) for one in feeding.placed_last(ledger)),
            aside=tuple(feeding.asides_since(ledger, now - timedelta(minutes=aside().minutes))),
            earlier=_plans(ledger, {day for day, _ in left}),
            cooled=set_to_cool(ledger, first - LEFT_BEHIND),
            probes=tuple({e.subject: e for e in recent if e.kind == "probe" and not e.undone}.values()),
        )


def handovers(recent: list[Entry], now: datetime) -> tuple[Entry | None, datetime | None]:
    """The handover signed last, and the moment from which to tell what happened.

    A handover just signed does not wipe out the night it is about: the story then starts at the one
    before.
    """
    signed = [e for e in recent if e.kind == "handover" and not e.undone]
    before = [e for e in signed if now - e.at >= JUST_SIGNED]
    latest = signed[-1] if signed and signed[-1] not in before else None
    return latest, before[-1].at if before else None


def corrections(entries: Iterable[Entry]) -> dict[int, Entry]:
    """What is right of each entry that was put right, by its number: the corrections one over the other."""
    found: dict[int, Entry] = {}
    for entry in sorted(entries, key=lambda e: e.seq):
        if entry.kind == "correction" and not entry.undone:
            before = found.get(entry.data["entry"])
            data = {**before.data, **entry.data} if before else entry.data
            found[entry.data["entry"]] = replace(entry, data=data)
    return found


def at_their_times(entries: Sequence[Entry]) -> list[Entry]:
    """Entries at the times that were put right, in the order in which they then happened."""
    right = {seq: e.data["at"] for seq, e in corrections(entries).items() if "at" in e.data}
    moved = [replace(e, at=datetime.fromisoformat(right[e.seq])) if e.seq in right else e for e in entries]
    return sorted(moved, key=lambda e: (e.at, e.seq))


def _kept(times: Counted, house: House, since: datetime, silence: Silence) -> dict[str, tuple[Reading, ...]]:
    """The lately taken readings of each hot hold and of the walk-in."""
    places = [WALK_IN, *(id for id, hold in house.holds.items() if hold.setpoint_c is not None)]
    return {place: tuple(times.readings(place=place, since=since, silence=silence)) for place in places}


def _with_cooks(ledger: Ledger, house: House, today: date) -> House:
    """The house with what its ledger saw cooked and sold among its past cooks and sales."""
    finished = past_cooks(ledger, house.cuts, today - LEARN_BACK, house.pits)
    sold = tuple(_past_sales(ledger, house, today))
    if not finished and not sold:
        return house
    return replace(house, cooks=(*house.cooks, *finished), sales=(*house.sales, *sold))


def _past_sales(ledger: Ledger, house: House, today: date) -> Iterator[Sale]:
    """What the ledger saw sold on past days, where the house's own file does not tell it."""
    told = {(sale.day, sale.service, sale.item) for sale in house.sales}
    for one in read.sales(ledger, today - LEARN_BACK, today - timedelta(days=1)):
        if one.service in house.services and (one.day, one.service, one.item) not in told:
            out = local(one.sold_out_at, house).time() if one.sold_out_at else None
            yield Sale(one.day, one.service, one.item, one.sold, 0, out)


def _done(ledger: Ledger, first: date, last: date) -> dict[Key, Done]:
    steps = read.step_states(ledger, first, last)
    return {(s.day, s.id): Done(s.done_at, s.done_by or "") for s in steps if s.done_at is not None}


def _plans(ledger: Ledger, days: Iterable[date]) -> dict[date, Plan]:
    return {day: plan for day in sorted(days) if (plan := read.current_plan(ledger, day)) is not None}


def _left(ledger: Ledger, times: Counted, before: date) -> dict[Key, LoadState]:
    """The loads of the days before the near ones that are off their pits with something left of them."""
    days = days_with_left(ledger, before - LEFT_BEHIND, before - timedelta(days=1))
    every = times.loads(state for day in days for state in read.load_states(ledger, day))
    return {(one.day, one.id): one for one in every if one.stage in OFF_AND_THERE and one.portions_left > 0}


def _readings(times: Counted, load: LoadState, silence: Silence) -> tuple[Reading, ...]:
    return tuple(times.readings(load=load.id, day=load.day, since=load.on_at, silence=silence))


def _weighed(ledger: Ledger, first: date, last: date) -> dict[Key, tuple[WeighedFacts, ...]]:
    """What was weighed of each batch, by line."""
    found: dict[Key, tuple[WeighedFacts, ...]] = {}
    for one in read.weighings(ledger, first, last):
        found[one.day, one.batch] = (*found.get((one.day, one.batch), ()), one)
    return found


def _shelf(ledger: Ledger, kept: Sequence[BatchState]) -> Iterator[Shelved]:
    """Batches of older plans of which something is left, less what was marked and what loads on a pit had."""
    for day, group in groupby(kept, key=lambda batch: batch.day):
        plan = read.current_plan(ledger, day)
        begun = {load.id for load in read.load_states(ledger, day) if load.on_at is not None}
        for state in group:
            batch = find_batch(plan, state.id)
            if plan is None or batch is None:
                continue
            uses = read.uses_of(ledger, day, state.id)
            told = begun - {use.load for use in uses}
            own_kg = sum(claim.kg for claim in own_claims(plan, batch) if claim.load.id in told)
            left_kg = batch.amount_kg - own_kg - sum(use.kg for use in uses)
            if left_kg > _LEFT * batch.amount_kg:
                yield Shelved(plan, batch, left_kg)


def _chilling(times: Counted, batch: BatchState) -> tuple[Reading, ...]:
    """Temperatures of a batch since it was made, read by its lot or by its name."""
    places = dict.fromkeys(place for place in (batch.lot, batch.id) if place)
    found = [one for place in places for one in times.readings(place=place, since=batch.made_at)]
    return tuple(sorted(found, key=lambda one: (one.at, one.seq)))


def _air(times: Counted, loads: Iterable[LoadState], silence: Silence) -> dict[str, tuple[Reading, ...]]:
    """Readings of the pits that cook or cooked what is about, since the first of those loads went on."""
    since: dict[str, datetime] = {}
    for load in loads:
        for pit in (load.pit, load.moved_from):
            if load.stage in _COOKING and load.on_at is not None and pit:
                since[pit] = min(load.on_at, since.get(pit, load.on_at))
    found = {pit: times.readings(place=pit, since=at, silence=silence) for pit, at in since.items()}
    return {pit: tuple(readings) for pit, readings in found.items()}


def _asked(recent: Iterable[Entry], times: Counted) -> dict[str, tuple[tuple[datetime, float], ...]]:
    """The setpoints each pit was lit to or set to, in order of time."""
    found: dict[str, list[tuple[datetime, float]]] = {}
    for entry in recent:
        setpoint = entry.data.get("setpoint_c")
        if entry.kind == "light" and setpoint is not None and not entry.undone:
            found.setdefault(entry.subject, []).append((times.at(entry), float(setpoint)))
    return {pit: tuple(sorted(asked, key=lambda one: one[0])) for pit, asked in found.items()}


def _promises(ledger: Ledger, first: date, last: date) -> dict[tuple[date, str, str], int]:
    days = [first + timedelta(days=n) for n in range((last - first).days + 1)]
    return {
        (day, service, item): portions
        for day in days
        for (service, item), portions in read.promises(ledger, day).items()
    }
