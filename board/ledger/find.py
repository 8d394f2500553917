"""Finding what a person means: the load, step, batch or pit of that name nearest the moment."""

from datetime import datetime, timedelta

from board.errors import LedgerError
from board.ledger.facts import BatchFacts, LoadFacts, StepFacts
from board.ledger.open import Ledger, Row
from board.ledger.stages import STAGE_OF_STEP
from board.ledger.store import as_facts
from board.ledger.times import day_text

NEAREST_DAYS = 30  # names come back after a year; a mark is about one of these days
BEFORE_PLAN = timedelta(hours=12)  # meat may go on before somebody commits the plan that has it

LOADS_IN_PLAY = "NOT (dropped AND stage = 'planned')"
BATCHES_IN_PLAY = "NOT (dropped AND stage = 'due')"
STEPS_IN_PLAY = "NOT (dropped AND done_seq IS NULL)"


def load(ledger: Ledger, load_id: str, at: datetime) -> LoadFacts:
    """The load of that name nearest the moment.

    Raises:
        LedgerError: no such load; names those there are.
    """
    row = _nearest(ledger, "loads", LOADS_IN_PLAY, load_id, at)
    if row is None:
        raise LedgerError(f"there is no load {load_id}; {_those(ledger, 'loads', LOADS_IN_PLAY, at)}")
    found = as_facts(LoadFacts, row)
    earliest = min(found.known_from, found.load_at) - BEFORE_PLAN
    if at < earliest:
        raise LedgerError(
            f"{load_id} was not there yet at {ledger.date_and_clock(at)}; give the time with its date"
        )
    return found


def step(ledger: Ledger, step_id: str, at: datetime) -> StepFacts:
    """The step of that name nearest the moment.

    Raises:
        LedgerError: no such step; names those there are.
    """
    row = _nearest(ledger, "steps", STEPS_IN_PLAY, step_id, at)
    if row is None:
        raise LedgerError(f"there is no step {step_id}; {_those(ledger, 'steps', STEPS_IN_PLAY, at)}")
    return as_facts(StepFacts, row)


def batch(ledger: Ledger, batch_id: str, at: datetime) -> BatchFacts:
    """The batch of that name, or made under that lot, nearest the moment.

    Raises:
        LedgerError: no such batch; names those there are.
    """
    row = _nearest_batch(ledger, batch_id, at)
    if row is None:
        raise LedgerError(f"there is no batch {batch_id}; {_those(ledger, 'batches', BATCHES_IN_PLAY, at)}")
    return as_facts(BatchFacts, row)


def is_known(ledger: Ledger, table: str, name: str, at: datetime) -> bool:
    """Whether there is a load, step or batch (by its table) of that name near the moment."""
    if table == "batches":
        return _nearest_batch(ledger, name, at) is not None
    in_play = {"loads": LOADS_IN_PLAY, "steps": STEPS_IN_PLAY}[table]
    return _nearest(ledger, table, in_play, name, at) is not None


def step_of_load(ledger: Ledger, found: LoadFacts, what: str, *, done_too: bool = False) -> str | None:
    """The id of the load's planned step of that kind, still to do unless `done_too`."""
    row = ledger.row(
        """SELECT id FROM steps WHERE day = ? AND load = ? AND what = ? AND NOT dropped
        AND (? OR done_seq IS NULL) ORDER BY done_seq IS NOT NULL, at""",
        (day_text(found.day), found.id, what, done_too),
    )
    return str(row["id"]) if row else None


def work_on_load(ledger: Ledger, found: LoadFacts) -> list[str]:
    """The kinds of work planned on a load that are no stage of it."""
    rows = ledger.rows(
        "SELECT DISTINCT what FROM steps WHERE day = ? AND load = ? AND NOT dropped ORDER BY at",
        (day_text(found.day), found.id),
    )
    return [row["what"] for row in rows if row["what"] not in (*STAGE_OF_STEP, "light", "set")]


def step_of_batch(ledger: Ledger, found: BatchFacts) -> str | None:
    """The id of the planned step in which the batch is made, if it is not done yet."""
    row = ledger.row(
        """SELECT id FROM steps WHERE day = ? AND batch = ? AND what LIKE 'make%'
        AND done_seq IS NULL AND NOT dropped""",
        (day_text(found.day), found.id),
    )
    return str(row["id"]) if row else None


def _nearest_batch(ledger: Ledger, name: str, at: datetime) -> Row | None:
    """By its id; else by the lot on its tub."""
    by_id = _nearest(ledger, "batches", BATCHES_IN_PLAY, name, at)
    return by_id or _nearest(ledger, "batches", BATCHES_IN_PLAY, name, at, column="lot")


def _nearest(
    ledger: Ledger, table: str, in_play: str, name: str, at: datetime, *, column: str = "id"
) -> Row | None:
    local = day_text(ledger.day(at))
    return ledger.row(
        f"""SELECT *, abs(julianday(day) - julianday(?)) AS days FROM {table}
        WHERE {column} = ? AND {in_play} AND days <= {NEAREST_DAYS} ORDER BY days, day LIMIT 1""",
        (local, name),
    )


def _those(ledger: Ledger, table: str, in_play: str, at: datetime) -> str:
    """What there is instead, for the sentence."""
    first = day_text(ledger.day(at - timedelta(days=1)))
    rows = ledger.rows(
        f"SELECT id FROM {table} WHERE day >= ? AND {in_play} ORDER BY day, id LIMIT 12", (first,)
    )
    names = ", ".join(row["id"] for row in rows)
    return f"there are {names}" if names else "no plan in force of these days has any"
