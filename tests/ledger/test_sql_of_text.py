"""Nothing that is typed becomes a part of SQL: each value is bound, whatever is written in it."""

from datetime import timedelta
from typing import Any

import pytest

from board.errors import LedgerError
from board.ledger import read, write
from board.ledger.lean import Database
from board.ledger.open import Ledger
from board.ledger.search import entries_with
from board.ledger.state import WatchKind
from board.ledger.watching import Watched

from .by_hand import DAY, EVENING

TYPED = 'zqx\'); DROP TABLE entries; --" OR "1"="1'


@pytest.fixture
def spelt(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Every text of SQL that is run from here on."""
    texts: list[str] = []
    plain = Database.execute

    def noting(self: Database, sql: str, *values: Any) -> Any:
        texts.append(sql)
        return plain(self, sql, *values)

    monkeypatch.setattr(Database, "execute", noting)
    return texts


def test_no_typed_text_is_in_any_sql(planned: Ledger, spelt: list[str]) -> None:
    """Names, notes, places, loads, lots, services and what is searched for are only ever bound."""
    said = {"who": f"{TYPED} w", "at": EVENING, "noted_at": EVENING}
    write.note(planned, TYPED, TYPED, **said)
    write.take_reading(planned, 4.0, place=TYPED, **said)
    write.light(planned, TYPED, 110.0, **said)
    write.set_promise(planned, DAY, TYPED.replace("/", ""), TYPED, 3, **said)
    write.sell(planned, DAY, "lunch", TYPED, 3, **said)
    write.start_watch(planned, Watched(WatchKind.COOLING, TYPED, place=TYPED), **said)
    write.make_batch(planned, "1209-glaze-1", TYPED[:20], **said)
    for refused in (write.mark_load, write.mark_batch):
        with pytest.raises(LedgerError):
            refused(planned, TYPED, "pulled", **said)  # type: ignore[operator]
    write.undo(planned, **said)
    found = [
        read.entries(planned, since=EVENING - timedelta(days=1), kinds=["note", TYPED]),
        entries_with(planned, TYPED, limit=9),
        read.readings(planned, place=TYPED),
        read.batches_named(planned, TYPED),
    ]
    assert all(found[:3])
    assert len(spelt) > 30
    assert [sql for sql in spelt if "zqx" in sql] == []
    assert planned.row("SELECT count(*) AS n FROM entries")["n"] >= 8  # type: ignore[index]
