"""Loads that were cooked to their end, as the ledger tells them, for the sums to learn from."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime, timedelta
from functools import lru_cache

from board.house.model import Cut, Pit
from board.house.past import PastCook
from board.house.spans import minutes_between
from board.ledger import record
from board.ledger.open import Ledger, Row
from board.ledger.times import day_text, moment, stamp
from board.planning.modes import warmer_k

MOST = 200
NO_PITS: Mapping[str, Pit] = {}
READ_BEFORE, READ_AFTER = timedelta(minutes=15), timedelta(minutes=10)  # a core read about the pull
FEWEST_AIRS = 3  # readings of a pit's air that make a mean
LIT_BEFORE = timedelta(days=3)  # a pit burns no longer at one mark

Marks = Sequence[tuple[datetime, float]]
Lit = dict[str, list[tuple[datetime, float]]]

_FINISHED = """SELECT l.*,
    (SELECT r.temperature_c FROM readings r JOIN loads o ON o.id = r.load AND o.day = r.load_day
        WHERE r.load = l.id AND r.load_day = l.day
        AND julianday(r.at) BETWEEN julianday(o.pulled_at) - ? AND julianday(o.pulled_at) + ?
        ORDER BY abs(julianday(r.at) - julianday(o.pulled_at)), r.seq DESC LIMIT 1) AS core_c,
    (SELECT CASE WHEN count(*) >= ? THEN avg(r.temperature_c) END FROM readings r
        WHERE r.place = l.pit AND r.at BETWEEN l.on_at AND l.pulled_at) AS air_c
    FROM loads l WHERE l.day >= ? AND l.on_at < l.pulled_at AND l.moved_at IS NULL AND l.mass_kg > 0
    ORDER BY l.pulled_at DESC LIMIT ?"""


def past_cooks(
    ledger: Ledger, cuts: Mapping[str, Cut], since: date, pits: Mapping[str, Pit] = NO_PITS
) -> tuple[PastCook, ...]:
    """The loads of planned days from `since` that were marked on and pulled, the latest 200, oldest first.

    What was taken back is not there, nor is a load that changed pits. In a zone of its pit,
    setpoint and air are what the load met there.
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
    )


def _last_mark(ledger: Ledger) -> int:
    """The last entry that may finish a load or change one; a reading alone does not."""
    kinds = ("load", "move", "plan", "light", "correction", "undo")
    sql = "SELECT coalesce(max(seq), 0) AS seq FROM entries WHERE kind = ?"
    return max(int(ledger.rows(sql, (kind,))[0]["seq"]) for kind in kinds)


@lru_cache(maxsize=2)
def _finished(ledger: Ledger, since: str, last: int) -> tuple[list[Row], Lit]:  # noqa: ARG001
    """The finished loads and the fires they were on, asked again only after `last` has changed."""
    day = timedelta(days=1)
    rows = ledger.rows(_FINISHED, (READ_BEFORE / day, READ_AFTER / day, FEWEST_AIRS, since, MOST))
    if not rows:
        return [], {}
    return rows, _lit(ledger, moment(min(row["on_at"] for row in rows)) - LIT_BEFORE)


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
