"""Which loads were on which pits over a span, as the record has it."""

from collections.abc import Iterator
from datetime import datetime, timedelta

from board.ledger.facts import LoadFacts
from board.ledger.open import Ledger
from board.ledger.store import as_facts
from board.ledger.times import day_text, stamp
from board.probes.known import OnPit

_ABOUT = timedelta(days=3)  # a load is on a pit about the day it was planned for


def on_pits(ledger: Ledger, since: datetime, until: datetime) -> list[OnPit]:
    """Every load that was on a pit at some time of a span; one that changed pits once for each."""
    rows = ledger.rows(
        """SELECT * FROM loads WHERE day BETWEEN ? AND ? AND on_at <= ?
        AND coalesce(min(pulled_at, lost_at), pulled_at, lost_at, '9') > ?""",
        (
            day_text((since - _ABOUT).date()),
            day_text((until + _ABOUT).date()),
            stamp(until),
            stamp(since),
        ),
    )
    return [stay for row in rows for stay in _stays(as_facts(LoadFacts, row))]


def _stays(load: LoadFacts) -> Iterator[OnPit]:
    ended = min((at for at in (load.pulled_at, load.lost_at) if at is not None), default=None)
    assert load.on_at is not None
    since = load.on_at
    if load.moved_at is not None and load.moved_from is not None:
        yield OnPit(load.id, load.day, load.moved_from, load.moved_from_zone, since, load.moved_at)
        since = load.moved_at
    yield OnPit(load.id, load.day, load.pit, load.zone, since, ended)
