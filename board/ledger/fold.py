"""What follows from the record: the state of one thing, from the entries that bear on it.

Pure. `advance` takes the state one entry further; `fold` starts from nothing. Both are used on
every write, so that the stored state is always what replaying the record gives.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any

from board.ledger.stages import BATCH_ORDER, LOAD_ORDER
from board.ledger.state import BatchStage, Entry, LoadStage, WatchEnd, WatchKind
from board.ledger.times import moment


@dataclass(frozen=True, slots=True)
class LoadFacts:
    """A load: what the latest plan says of it, when each stage was reached, and its last change of pits."""

    day: date
    id: str
    cut: str
    item: str
    pit: str
    pieces: int
    portions: int
    portions_left: int
    load_at: datetime
    known_from: datetime
    dropped: bool = False
    stage: LoadStage = LoadStage.PLANNED
    since: datetime | None = None
    prepped_at: datetime | None = None
    on_at: datetime | None = None
    wrapped_at: datetime | None = None
    pulled_at: datetime | None = None
    resting_at: datetime | None = None
    holding_at: datetime | None = None
    served_at: datetime | None = None
    lost_at: datetime | None = None
    moved_at: datetime | None = None
    moved_from: str | None = None
    mass_kg: float | None = None
    setpoint_c: float | None = None
    zone: str | None = None
    moved_from_zone: str | None = None

    @property
    def times(self) -> dict[str, datetime]:
        """The stages reached, in their order, with their times."""
        return _times(self, LOAD_ORDER)


@dataclass(frozen=True, slots=True)
class StepFacts:
    """A step: what the latest plan says of it, and by whom it was done."""

    day: date
    id: str
    at: datetime
    ends_at: datetime
    what: str
    minutes: float
    person: str | None
    load: str | None
    batch: str | None
    pit: str | None
    dropped: bool = False
    done_at: datetime | None = None
    done_by: str | None = None
    done_seq: int | None = None


@dataclass(frozen=True, slots=True)
class BatchFacts:
    """A batch: what the latest plan says of it, and when each stage was reached."""

    day: date
    id: str
    recipe: str
    kind: str
    amount_kg: float
    make_by: datetime
    ready_from: datetime
    use_by: datetime
    dropped: bool = False
    stage: BatchStage = BatchStage.DUE
    lot: str | None = None
    made_by: str | None = None
    made_at: datetime | None = None
    ready_at: datetime | None = None
    used_at: datetime | None = None
    discarded_at: datetime | None = None
    discarded_why: str | None = None

    @property
    def times(self) -> dict[str, datetime]:
        """The stages reached, in their order, with their times."""
        return _times(self, BATCH_ORDER)


@dataclass(frozen=True, slots=True)
class PitFacts:
    """A pit: lit since when, and the setpoint last asked for."""

    id: str
    lit_at: datetime | None
    setpoint_c: float | None


@dataclass(frozen=True, slots=True)
class PromiseFacts:
    """Portions promised of one item at one service, where somebody changed what the house says."""

    day: date
    service: str
    item: str
    portions: int


@dataclass(frozen=True, slots=True)
class PinFacts:
    """Where a person wants a load cooked: pit, zone, setpoint and loading time hold in every new plan.

    `pieces` is how many of it, where the rest is to cook somewhere else.
    """

    day: date
    load: str
    pit: str
    zone: str | None
    setpoint_c: float | None
    load_at: datetime
    pieces: int | None = None


@dataclass(frozen=True, slots=True)
class SaleFacts:
    """Portions sold of one item at one service, and when it ran out."""

    day: date
    service: str
    item: str
    sold: int = 0
    sold_out_at: datetime | None = None


@dataclass(frozen=True, slots=True)
class ReadingFacts:
    """A temperature somebody or something read, as it was last corrected."""

    seq: int
    at: datetime
    who: str
    place: str
    load: str | None
    load_day: date | None
    temperature_c: float
    as_read_c: float | None = None
    corrected_by: int | None = None


@dataclass(frozen=True, slots=True)
class WeighedFacts:
    """One line of a batch's recipe as it was last weighed; `reader` is the second person who read it."""

    day: date
    batch: str
    line: int
    ingredient: str
    grams: float
    asked_g: float
    who: str
    at: datetime
    reader: str | None = None


@dataclass(frozen=True, slots=True)
class UseFacts:
    """What one step of a load took of one batch; `batch_day` is the day of the plan that names the batch."""

    day: date
    step: str
    batch: str
    load: str
    batch_day: date
    lot: str | None
    kg: float
    who: str
    at: datetime


@dataclass(frozen=True, slots=True)
class WatchFacts:
    """Food under a rule that runs: what and how much, since when, from which load, and what became of it.

    `made_on` is the day the food was made, for its date mark. `frozen` are the days it went into the freezer
    and came out, as `2026-12-20/2026-12-24 2026-12-26/`, the last one open while it is in.
    """

    id: str
    kind: WatchKind
    what: str
    seq: int
    started_at: datetime
    started_by: str
    amount: str | None = None
    load: str | None = None
    load_day: date | None = None
    place: str | None = None
    way: str | None = None
    from_watch: str | None = None
    made_on: date | None = None
    frozen: str = ""
    ended_at: datetime | None = None
    ended_by: str | None = None
    how: WatchEnd | None = None


Facts = (
    LoadFacts
    | StepFacts
    | BatchFacts
    | PitFacts
    | PromiseFacts
    | PinFacts
    | SaleFacts
    | ReadingFacts
    | WeighedFacts
    | UseFacts
    | WatchFacts
)


def standing(entries: Iterable[Entry]) -> list[Entry]:
    """The entries that nobody took back, without the entries that took others back."""
    found = list(entries)
    undone = {entry.undoes for entry in found}
    return [entry for entry in found if entry.undoes is None and entry.seq not in undone]


def fold(family: str, entries: Iterable[Entry]) -> Facts | None:
    """The state of one thing from all entries that bear on it, in the order of the record.

    A plan's entry carries, as data, the plan's piece about this thing under "planned", or None
    where that plan does not name it; that of a step that used batches, what it took of this one under "took".
    """
    facts: Facts | None = None
    for entry in standing(entries):
        facts = advance(family, facts, entry)
    return facts


def advance(family: str, facts: Facts | None, entry: Entry) -> Facts | None:
    """The state after one more entry that takes nothing back."""
    return FAMILIES[family](facts, entry)


def _load(facts: LoadFacts | None, entry: Entry) -> LoadFacts | None:
    if entry.kind == "plan":
        return _planned_load(facts, entry)
    assert facts is not None
    if entry.kind == "sale":
        here = {"load": facts.id, "day": facts.day.isoformat()}
        taken = sum(part["portions"] for part in entry.data["from"] if here.items() <= part.items())
        return replace(facts, portions_left=max(0, facts.portions_left - taken))
    if entry.kind == "move":
        place = {"pit": entry.data["pit"], "zone": entry.data.get("zone")}
        before: dict[str, Any] = {"moved_from": entry.data["from"], "moved_from_zone": facts.zone}
        return replace(facts, **place, **before, moved_at=entry.at)
    stage = LoadStage(entry.data["stage"])
    when: dict[str, Any] = {f"{stage}_at": entry.at}
    changed = replace(facts, **when, **_place(facts, entry))
    reached = changed.times
    last = list(reached)[-1]
    left = (
        0 if last in (LoadStage.SERVED, LoadStage.LOST) else entry.data.get("portions", facts.portions_left)
    )
    return replace(changed, stage=LoadStage(last), since=reached[last], portions_left=left)


def _place(facts: LoadFacts, entry: Entry) -> dict[str, Any]:
    """Where a load is after a stage: a zone of one pit is none of another."""
    pit = entry.data.get("pit", facts.pit)
    return {"pit": pit, "zone": entry.data.get("zone", facts.zone if pit == facts.pit else None)}


def _planned_load(facts: LoadFacts | None, entry: Entry) -> LoadFacts | None:
    planned = entry.data["planned"]
    if planned is None:
        return facts and replace(facts, dropped=True)
    if facts and facts.stage != LoadStage.PLANNED:
        return replace(facts, dropped=False)
    return LoadFacts(
        day=date.fromisoformat(entry.subject),
        id=planned["id"],
        cut=planned["cut"],
        item=planned["item"],
        pit=planned["pit"],
        pieces=planned["pieces"],
        portions=planned["portions"],
        portions_left=planned["portions"],
        load_at=moment(planned["load_at"]),
        known_from=facts.known_from if facts else entry.at,
        mass_kg=planned.get("mass_kg"),
        setpoint_c=planned.get("setpoint_c"),
        zone=planned.get("zone"),
    )


def _step(facts: StepFacts | None, entry: Entry) -> StepFacts | None:
    if entry.kind != "plan":
        assert facts is not None
        return replace(facts, done_at=entry.at, done_by=entry.who, done_seq=entry.seq)
    planned = entry.data["planned"]
    if planned is None:
        return facts and replace(facts, dropped=True)
    if facts and facts.done_seq:
        return replace(facts, dropped=False)
    return StepFacts(
        day=date.fromisoformat(entry.subject),
        id=planned["id"],
        at=moment(planned["at"]),
        ends_at=moment(planned["ends_at"]),
        what=planned["what"],
        minutes=float(planned["minutes"]),
        person=planned["who"],
        load=planned["load"],
        batch=planned["batch"],
        pit=planned.get("pit"),
    )


def _batch(facts: BatchFacts | None, entry: Entry) -> BatchFacts | None:
    if entry.kind == "plan":
        return _planned_batch(facts, entry)
    assert facts is not None
    stage = BatchStage(entry.data["stage"])
    when: dict[str, Any] = {f"{stage}_at": entry.at}
    changed = replace(facts, **when, lot=entry.data.get("lot", facts.lot))
    if stage is BatchStage.MADE:
        changed = replace(changed, made_by=entry.who)
    if stage is BatchStage.DISCARDED:
        changed = replace(changed, discarded_why=entry.data.get("reason"))
    return replace(changed, stage=BatchStage(list(changed.times)[-1]))


def _planned_batch(facts: BatchFacts | None, entry: Entry) -> BatchFacts | None:
    planned = entry.data["planned"]
    if planned is None:
        return facts and replace(facts, dropped=True)
    if facts and facts.stage != BatchStage.DUE:
        return replace(facts, dropped=False)
    return BatchFacts(
        day=date.fromisoformat(entry.subject),
        id=planned["id"],
        recipe=planned["recipe"],
        kind=planned["kind"],
        amount_kg=float(planned["amount_kg"]),
        make_by=moment(planned["make_by"]),
        ready_from=moment(planned["ready_from"]),
        use_by=moment(planned["use_by"]),
    )


def _pit(facts: PitFacts | None, entry: Entry) -> PitFacts:
    if entry.kind == "out":
        return PitFacts(entry.subject, None, None)
    burning = facts.lit_at if facts and not entry.data["afresh"] else None
    lit_at = burning or entry.at
    return PitFacts(entry.subject, lit_at, entry.data["setpoint_c"])


def _promise(_: PromiseFacts | None, entry: Entry) -> PromiseFacts:
    data = entry.data
    return PromiseFacts(date.fromisoformat(data["day"]), data["service"], data["item"], data["portions"])


def _pin(_: PinFacts | None, entry: Entry) -> PinFacts | None:
    if entry.kind == "unpin":
        return None
    data = entry.data
    return PinFacts(
        date.fromisoformat(data["day"]),
        entry.subject,
        data["pit"],
        data.get("zone"),
        data.get("setpoint_c"),
        moment(data["load_at"]),
        data.get("pieces"),
    )


def _sale(facts: SaleFacts | None, entry: Entry) -> SaleFacts:
    data = entry.data
    so_far = facts or SaleFacts(date.fromisoformat(data["day"]), data["service"], data["item"])
    if entry.kind == "sold out":
        return replace(so_far, sold_out_at=entry.at)
    return replace(so_far, sold=so_far.sold + data["portions"])


def _reading(facts: ReadingFacts | None, entry: Entry) -> ReadingFacts | None:
    if entry.kind == "correction":
        return facts and _corrected(facts, entry)
    day = entry.data.get("day")
    return ReadingFacts(
        seq=entry.seq,
        at=entry.at,
        who=entry.who,
        place=entry.subject,
        load=entry.subject if day else None,
        load_day=date.fromisoformat(day) if day else None,
        temperature_c=entry.data["temperature_c"],
    )


def _weighed(_: WeighedFacts | None, entry: Entry) -> WeighedFacts:
    data = entry.data
    return WeighedFacts(
        date.fromisoformat(data["day"]),
        entry.subject,
        data["line"],
        data["ingredient"],
        data["grams"],
        data["asked_g"],
        entry.who,
        entry.at,
        data.get("reader"),
    )


def _use(_: UseFacts | None, entry: Entry) -> UseFacts:
    """A step's entry narrowed to what it took of one batch, under "took"."""
    data, took = entry.data, entry.data["took"]
    return UseFacts(
        date.fromisoformat(data["day"]),
        entry.subject,
        took["batch"],
        data["load"],
        date.fromisoformat(took["day"]),
        took.get("lot"),
        took["kg"],
        entry.who,
        entry.at,
    )


def _corrected(facts: ReadingFacts, entry: Entry) -> ReadingFacts:
    """A reading as it is right; what was first written stays beside it."""
    first = facts.temperature_c if facts.corrected_by is None else facts.as_read_c
    right = float(entry.data.get("temperature_c", facts.temperature_c))
    at = moment(entry.data["at"]) if "at" in entry.data else facts.at
    return replace(facts, at=at, temperature_c=right, as_read_c=first, corrected_by=entry.seq)


def _watch(facts: WatchFacts | None, entry: Entry) -> WatchFacts | None:
    data = entry.data
    if entry.kind == "watch":
        day, made_on = data.get("day"), data.get("made_on")
        return WatchFacts(
            id=entry.subject,
            kind=WatchKind(data["watch"]),
            what=data["what"],
            seq=entry.seq,
            started_at=entry.at,
            started_by=entry.who,
            amount=data.get("amount"),
            load=data.get("load"),
            load_day=date.fromisoformat(day) if day else None,
            place=data.get("place"),
            way=data.get("way"),
            from_watch=data.get("from_watch"),
            made_on=date.fromisoformat(made_on) if made_on else None,
        )
    if facts is None:
        return None
    if entry.kind == "frozen":
        return replace(facts, frozen=f"{facts.frozen} {data['on']}/".strip())
    if entry.kind == "thawed":
        return replace(facts, frozen=facts.frozen + data["on"])
    return replace(facts, ended_at=entry.at, ended_by=entry.who, how=WatchEnd(data["how"]))


def _times(facts: LoadFacts | BatchFacts, order: tuple[str, ...]) -> dict[str, datetime]:
    found = {stage: getattr(facts, f"{stage}_at") for stage in order}
    return {stage: at for stage, at in found.items() if at is not None}


FAMILIES: Mapping[str, Callable[[Any, Entry], Facts | None]] = {
    "load": _load,
    "step": _step,
    "batch": _batch,
    "pit": _pit,
    "promise": _promise,
    "pin": _pin,
    "sale": _sale,
    "reading": _reading,
    "weighing": _weighed,
    "use": _use,
    "watch": _watch,
}
