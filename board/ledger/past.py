"""Loads that were cooked to their end, as the ledger tells them, for the sums to learn from."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime, timedelta
from functools import lru_cache

from board.house.model import Cut, Pit
from board.house.past import PastCook
from board.house.spans import minutes_between
from board.ledger import read, record
from board.ledger.open import Ledger, Row
from board.ledger.times import day_text, moment, stamp
from board.ledger.untimed import untimed
from board.planning.modes import warmer_k

MOST = 200
NO_PITS: Mapping[str, Pit] = {}
READ_BEFORE, READ_AFTER = timedelta(minutes=15), timedelta(minutes=10)  # a core read about the pull
FEWEST_AIRS = 3  # readings of a pit's air that make a mean
LIT_BEFORE = timedelta(days=3)  # a pit burns no longer at one mark

Marks = Sequence[tuple[datetime, float]]
Lit = dict[str, list[tuple[datetime, float]]]

_FINISHED = """SELECT l.* FROM loads l
    WHERE l.day >= ? AND l.on_at < l.pulled_at AND l.moved_at IS NULL AND l.mass_kg > 0
    ORDER BY l.pulled_at DESC LIMIT ?"""
_AIRS_BY_HAND, _AIRS_FED = (
    f"SELECT count(*) AS n, total(temperature_c) AS sum_c FROM {those} place = ? AND at BETWEEN ? AND ?"
    for those in ("readings WHERE", "fed WHERE struck IS NULL AND")
)


def past_cooks(
    ledger: Ledger, cuts: Mapping[str, Cut], since: date, pits: Mapping[str, Pit] = NO_PITS
) -> tuple[PastCook, ...]:
    """The loads of planned days from `since` that were marked on and pulled, the latest 200, oldest first.

    What was taken back is not there, nor is a load that changed pits; one whose times are doubtful says so.
    In a zone of its pit, setpoint and air are what the load met there.
    """
    rows, marks = _finished(ledger, day_text(since), _last_mark(ledger))
    return tuple(
        _cook(row, cuts[row["cut"]], marks.get(row["pit"], ()), _warmer_k(pits.get(row["pit"]), row["zone"]))
        for row in reversed(rows)
        if row["cut"] in cuts
    )


def mean_setpoint(marks: Marks, on_at: datetime, pulled_at: datetime, planned_c: float) -> float:
    """What a pit was asked for while a load was on it, °C, each setpoint by its time.

    `marks` are moments and setpoints in order of time; where none comes before the load, `planned_c` stands.
    """
    before = [celsius for at, celsius in marks if at <= on_at]
    knots = [(on_at, before[-1] if before else planned_c)]
    knots += [(at, celsius) for at, celsius in marks if on_at < at < pulled_at]
    ends = [*(at for at, _ in knots[1:]), pulled_at]
    total = sum(
        (end - at) / (pulled_at - on_at) * celsius for (at, celsius), end in zip(knots, ends, strict=True)
    )
    return float(total)


def _warmer_k(pit: Pit | None, zone: str | None) -> float:
    return warmer_k(next((one for one in (pit.zones if pit else ()) if one.id == zone), None))


def _cook(row: Row, cut: Cut, marks: Marks, more_k: float) -> PastCook:
    """One finished load; it was wrapped as its cut usually is where nobody marked when."""
    on_at, pulled_at = moment(row["on_at"]), moment(row["pulled_at"])
    wrapped_at = moment(row["wrapped_at"]) if row["wrapped_at"] else None
    return PastCook(
        day=date.fromisoformat(row["day"]),
        cut=row["cut"],
        pit=row["pit"],
        pieces=row["pieces"],
        mass_kg=row["mass_kg"] / row["pieces"],
        setpoint_c=mean_setpoint(marks, on_at, pulled_at, row["setpoint_c"]) + more_k,
        minutes=minutes_between(on_at, pulled_at),
        start_c=cut.start_c,
        core_c=row["core_c"],
        wrap=cut.wrap.material if cut.wrap else None,
        wrap_core_c=cut.wrap.at_core_c if cut.wrap and wrapped_at is None else None,
        wrap_minute=minutes_between(on_at, wrapped_at) if cut.wrap and wrapped_at else None,
        air_c=None if row["air_c"] is None else row["air_c"] + more_k,
        is_untimed=row["is_untimed"],
    )


def _last_mark(ledger: Ledger) -> str:
    """The link of the last entry that may finish a load or change one; a reading alone does not."""
    kinds = ("load", "move", "plan", "light", "correction", "undo", "placed", "struck", "clock")
    return record.link_of_last(ledger, kinds)


@lru_cache(maxsize=2)
def _finished(ledger: Ledger, since: str, last: str) -> tuple[list[Row], Lit]:  # noqa: ARG001
    """The finished loads and the fires they were on, asked again only after `last` has changed."""
    rows = ledger.rows(_FINISHED, (since, MOST))
    if not rows:
        return [], {}
    doubted = untimed(ledger, min(row["day"] for row in rows))
    rows = [
        row
        | {"core_c": _core_c(ledger, row), "air_c": _air_c(ledger, row)}
        | {"is_untimed": (row["day"], row["id"]) in doubted}
        for row in rows
    ]
    return rows, _lit(ledger, moment(min(row["on_at"] for row in rows)) - LIT_BEFORE)


def _core_c(ledger: Ledger, row: Row) -> float | None:
    """The core read nearest the pull, °C; of two as near, the one written last."""
    pulled_at, day = moment(row["pulled_at"]), date.fromisoformat(row["day"])
    since, until = pulled_at - READ_BEFORE, pulled_at + READ_AFTER
    found = read.readings(ledger, load=row["id"], day=day, since=since, until=until)
    nearest = min(found, key=lambda one: (abs(one.at - pulled_at), -one.seq), default=None)
    return nearest.temperature_c if nearest else None


def _air_c(ledger: Ledger, row: Row) -> float | None:
    """The mean of what was read of its pit's air while it was on, °C."""
    span = (row["pit"], row["on_at"], row["pulled_at"])
    sums = [ledger.rows(sql, span)[0] for sql in (_AIRS_BY_HAND, _AIRS_FED)]
    many = sum(one["n"] for one in sums)
    return sum(one["sum_c"] for one in sums) / many if many >= FEWEST_AIRS else None


def _lit(ledger: Ledger, since: datetime) -> Lit:
    """When each pit was lit or set since a moment, and at what."""
    righted = """SELECT json_extract(c.data, '$.at') FROM entries c WHERE c.kind = 'correction'
        AND json_extract(c.data, '$.entry') = e.seq AND json_extract(c.data, '$.at') IS NOT NULL
        AND NOT EXISTS (SELECT 1 FROM entries u WHERE u.undoes = c.seq) ORDER BY c.seq DESC LIMIT 1"""
    sql = f"""SELECT coalesce(({righted}), at) AS at, subject,
        json_extract(data, '$.setpoint_c') AS setpoint_c FROM entries e
        WHERE +kind = 'light' AND at >= ? AND undoes IS NULL
        AND {record.STANDS} ORDER BY 1, seq"""
    found: Lit = {}
    for row in ledger.rows(sql, (stamp(since),)):
        if row["setpoint_c"] is not None:
            found.setdefault(row["subject"], []).append((moment(row["at"]), row["setpoint_c"]))
    return found
