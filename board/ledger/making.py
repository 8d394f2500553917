"""A batch from the scale to the meat: weighed line by line, made under a lot, used or thrown away."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from board.errors import LedgerError
from board.ledger import find, lots, marking, store, typed
from board.ledger.append import already, append, last
from board.ledger.facts import BatchFacts, WeighedFacts
from board.ledger.keys import batch_key, weighing_key
from board.ledger.open import Ledger
from board.ledger.state import BatchStage, Entry, Took, Weight
from board.ledger.times import day_text
from board.ledger.typed import Said


def weigh(
    ledger: Ledger,
    batch_id: str,
    weight: Weight,
    *,
    reader: str | None = None,
    who: str,
    at: datetime,
    noted_at: datetime,
) -> Entry:
    """Record that one line of a batch's recipe was weighed, in place of what was weighed of it before.

    Args:
        ledger: where to record it.
        batch_id: the batch, of the plan nearest the moment.
        weight: which line, what the card asked for and what the scale showed.
        reader: the second person who read the scale, for a cure.
        who: weighed it.
        at: when.
        noted_at: now.

    Raises:
        LedgerError: no such batch, one that is made or thrown away, a mass no kitchen scale shows, the same
            person twice, or a doubtful time.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        batch = find.batch(ledger, batch_id, said.at)
        data = _weighed(batch, weight, _second(said, reader))
        key = weighing_key(batch.day, batch.id, weight.line)
        now = store.stored(ledger, key)
        if isinstance(now, WeighedFacts) and _is_the_same(now, data):
            return already(ledger, last(ledger, key).seq)
        _check_open(ledger, batch, said)
        return append(ledger, said, "weighed", batch.id, data)


def _is_the_same(now: WeighedFacts, data: Mapping[str, Any]) -> bool:
    """Whether the line was weighed so already; of another ingredient, or by another card, it was not."""
    stands = (now.ingredient, now.asked_g, now.grams, now.reader)
    return stands == (data["ingredient"], data["asked_g"], data["grams"], data.get("reader"))


def _weighed(batch: BatchFacts, weight: Weight, reader: str | None) -> dict[str, Any]:
    data: dict[str, Any] = {
        "day": day_text(batch.day),
        "line": weight.line,
        "ingredient": typed.name(weight.ingredient, "the ingredient", typed.LONGEST_TEXT),
        "grams": typed.grams(weight.grams),
        "asked_g": float(weight.asked_g),
    }
    return data | ({"reader": reader} if reader else {})


def _second(said: Said, reader: str | None) -> str | None:
    """Who read the scale besides whoever weighed."""
    if reader is None:
        return None
    kept = typed.name(reader, "the second person")
    if kept.casefold() == said.who.casefold():
        raise LedgerError(f"{said.who} weighed it; a second person reads the scale: give another name")
    return kept


def _check_open(ledger: Ledger, batch: BatchFacts, said: Said) -> None:
    """Whether a batch may still be weighed at that moment."""
    for stage, at in batch.times.items():
        if said.at > at or stage == BatchStage.DISCARDED:
            raise LedgerError(f"{batch.id} was {stage} at {ledger.clock(at)}; undo that first")


def make_batch(
    ledger: Ledger, batch_id: str, lot: str | None = None, *, who: str, at: datetime, noted_at: datetime
) -> Entry:
    """Record that a batch was made, under the lot typed or the one the board gives.

    Raises:
        LedgerError: no such batch, a lot that another batch has, or a doubtful time.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        batch = find.batch(ledger, batch_id, said.at)
        return made(ledger, said, batch, find.step_of_batch(ledger, batch), lot)


def made(ledger: Ledger, said: Said, batch: BatchFacts, step: str | None, lot: str | None = None) -> Entry:
    """Mark a batch made under its lot, with the planned step that made it."""
    done = BatchStage.MADE in batch.times
    data = {} if done else {"lot": lots.checked(ledger, lot, batch, said.at)}
    return marking.turn(ledger, said, batch, BatchStage.MADE, data=data, step=step)


def mark_batch(
    ledger: Ledger,
    batch_id: str,
    stage: BatchStage,
    *,
    reason: str | None = None,
    who: str,
    at: datetime,
    noted_at: datetime,
) -> Entry:
    """Mark a batch made, ready, used or discarded, which may have a reason.

    Raises:
        LedgerError: no such batch, a stage that cannot be, or a doubtful time.
    """
    if stage == BatchStage.MADE:
        return make_batch(ledger, batch_id, who=who, at=at, noted_at=noted_at)
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        data = {"reason": typed.text(reason, "reason")} if reason else {}
        batch = find.batch(ledger, batch_id, said.at)
        return marking.turn(ledger, said, batch, BatchStage(stage), data=data, step=None)


def taken(ledger: Ledger, said: Said, took: Sequence[Took]) -> list[dict[str, Any]]:
    """What a step takes of which batch, for its entry, with the lot.

    Raises:
        LedgerError: a batch that no plan names, that is not made, or that was thrown away before.
    """
    return [_taken(ledger, said, one) for one in took]


def _taken(ledger: Ledger, said: Said, one: Took) -> dict[str, Any]:
    batch = store.stored(ledger, batch_key(one.day, one.batch))
    if not isinstance(batch, BatchFacts):
        raise LedgerError(f"no plan of {one.day} names the batch {one.batch}; plan the day again")
    if batch.made_at is None or said.at < batch.made_at:
        raise LedgerError(f"{batch.id} is not made yet at {ledger.clock(said.at)}; mark it made first")
    if batch.discarded_at is not None and said.at >= batch.discarded_at:
        raise LedgerError(f"{batch.id} was discarded at {ledger.clock(batch.discarded_at)}; undo that first")
    data = {"batch": batch.id, "day": day_text(batch.day), "kg": round(one.kg, 4)}
    return data | ({"lot": batch.lot} if batch.lot else {})
