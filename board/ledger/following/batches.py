"""A batch, what was weighed for it and what took of it, one entry further."""

from dataclasses import replace
from datetime import date
from typing import Any

from board.ledger.facts import BatchFacts, UseFacts, WeighedFacts
from board.ledger.state import BatchStage, Entry
from board.ledger.times import moment


def batch(facts: BatchFacts | None, entry: Entry) -> BatchFacts | None:
    """A batch further by a plan, a stage, or its lot; None where no plan names it."""
    if entry.kind == "plan":
        return _planned_batch(facts, entry)
    if facts is None:  # its plan was lost from a damaged ledger
        return None
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


def weighed(_: WeighedFacts | None, entry: Entry) -> WeighedFacts:
    """What the scale last showed of one line of a batch."""
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


def use(_: UseFacts | None, entry: Entry) -> UseFacts:
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
