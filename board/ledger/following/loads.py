"""A load, its steps, its pin and the pit under it, one entry further."""

from dataclasses import replace
from datetime import date
from typing import Any

from board.ledger.facts import LoadFacts, PinFacts, PitFacts, RegroupFacts, StepFacts
from board.ledger.state import Entry, LoadStage
from board.ledger.times import moment


def load(facts: LoadFacts | None, entry: Entry) -> LoadFacts | None:
    """A load further by a plan, a stage, a change of pits, or a sale; None where no plan names it."""
    if entry.kind == "plan":
        return _planned_load(facts, entry)
    if facts is None:  # its plan was lost from a damaged ledger
        return None
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


def step(facts: StepFacts | None, entry: Entry) -> StepFacts | None:
    """A step further by a plan, or by being done; None where no plan names it."""
    if entry.kind != "plan":
        return facts and replace(facts, done_at=entry.at, done_by=entry.who, done_seq=entry.seq)
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


def pin(_: PinFacts | None, entry: Entry) -> PinFacts | None:
    """Where a person wants a load; None once they let it go."""
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


def regroup(_: RegroupFacts | None, entry: Entry) -> RegroupFacts:
    """Loads that a person wants split or joined."""
    data = entry.data
    day = date.fromisoformat(data["day"])
    return RegroupFacts(entry.seq, day, entry.subject, data["other"], data.get("pieces"))


def pit(facts: PitFacts | None, entry: Entry) -> PitFacts:
    """A pit lit, asked for another temperature, or let out."""
    if entry.kind == "out":
        return PitFacts(entry.subject, None, None)
    afresh = entry.data.get("afresh", False)  # the first version set a pit that was lit, and said no more
    burning = facts.lit_at if facts and not afresh else None
    lit_at = burning or entry.at
    return PitFacts(entry.subject, lit_at, entry.data["setpoint_c"])
