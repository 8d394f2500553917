"""A feed goes on through all that a ledger may go through, and ends with nothing half."""

import shutil
import sqlite3
from collections.abc import Callable, Iterator, Sequence
from datetime import UTC, datetime, timedelta
from threading import Event

import pytest

from board.commands.feed import running
from board.commands.feed.intake import Intake
from board.commands.feed.running import feed
from board.errors import LedgerError
from board.house.model import House
from board.ledger.open import Ledger, open_ledger

SINCE = datetime.now(UTC) - timedelta(hours=2)


class Rows:
    """Ten messages a turn, with something that happens before some turns; read again from a position."""

    def __init__(self, turns: int, before: dict[int, Callable[[], None]]) -> None:
        self.turns, self.before, self.turn = turns, before, 0
        self.acknowledged: list[int] = []

    def pour(self, intake: Intake[int], seconds: float) -> bool:
        """Offer the next ten."""
        if self.turn >= self.turns:
            return False
        self.before.pop(self.turn, lambda: None)()
        for n in range(10 * self.turn, 10 * self.turn + 10):
            intake.offer(
                f"north-grate {200 + n % 50} F {(SINCE + timedelta(seconds=n)).isoformat()}", n, SINCE
            )
        self.turn += 1
        return True

    def position(self) -> str:
        """The turns so far."""
        return str(self.turn)

    def begin(self, position: str) -> None:
        """Go on after so many turns."""
        self.turn = int(position or 0)

    def done(self, tokens: Sequence[int]) -> None:
        """Remember what need not be sent again."""
        self.acknowledged += tokens


@pytest.fixture(autouse=True)
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """Write at every turn, and wait for nothing."""
    monkeypatch.setattr(running, "FLUSH_SECONDS", 0.0)
    monkeypatch.setattr(running, "AGAIN_SECONDS", 0.0)
    monkeypatch.setattr(running, "BUSY_SECONDS", 0.0)


@pytest.fixture
def intake(ledger: Ledger, house: House) -> Iterator[Intake[int]]:
    """The way into a ledger that is opened anew where that helps."""
    found: Intake[int] = Intake(open_ledger(ledger.path), house, "rows")
    yield found
    found.ledger.close()


def times(ledger: Ledger) -> list[str]:
    """When the readings were that are on record."""
    return [row["at"] for row in ledger.rows("SELECT at FROM fed ORDER BY at")]


def test_a_busy_ledger_is_waited_for(
    intake: Intake[int], ledger: Ledger, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Said once however often it is tried; then all is there, and all is acknowledged."""
    other = sqlite3.connect(ledger.path, isolation_level=None)
    tries = []

    def held() -> None:
        other.execute("BEGIN IMMEDIATE")
        monkeypatch.setattr(running, "_open_again", let_go)

    def let_go(_: Intake[int]) -> None:
        tries.append(1)
        if len(tries) == 3:
            other.rollback()

    source = Rows(6, {2: held})
    feed(intake, source, Event())
    other.close()
    assert len(times(ledger)) == 60
    assert source.acknowledged == list(range(60))
    told = capsys.readouterr().err.splitlines()
    assert len(told) == 2
    assert "the feed waits" in told[0]
    assert "the feed goes on" in told[1]


def test_a_restored_ledger_is_fed_again_from_where_it_is(
    intake: Intake[int], ledger: Ledger, capsys: pytest.CaptureFixture[str]
) -> None:
    """What a restore took away is read again, also where the source has come to its end by then."""
    backup = ledger.path.with_name("backup.db")

    def keep() -> None:
        with sqlite3.connect(backup) as into:
            ledger.db.conn.backup(into)

    def put_back() -> None:
        with sqlite3.connect(backup) as old, sqlite3.connect(ledger.path) as into:
            old.backup(into)

    feed(intake, Rows(6, {2: keep, 5: put_back}), Event())
    assert len(times(ledger)) == 60
    assert "the ledger was set back, rows is read again from there" in capsys.readouterr().err


def test_a_ledger_taken_away_and_put_back(
    intake: Intake[int], ledger: Ledger, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nothing is written to a file that is gone; the feed goes on with the one that is there again."""
    aside = ledger.path.with_name("aside.db")
    again = running._open_again

    def away() -> None:
        ledger.db.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        shutil.copy(ledger.path, aside)
        ledger.path.unlink()
        monkeypatch.setattr(running, "_open_again", back)

    def back(one: Intake[int]) -> None:
        for left in ("-wal", "-shm"):
            ledger.path.with_name(f"{ledger.path.name}{left}").unlink(missing_ok=True)
        aside.rename(ledger.path)
        monkeypatch.setattr(running, "_open_again", again)
        again(one)

    feed(intake, Rows(6, {3: away}), Event())
    with open_ledger(ledger.path) as there:
        assert len(times(there)) == 60


def test_stopped_while_it_cannot_write_it_says_so(intake: Intake[int], ledger: Ledger) -> None:
    """Told to stop with something left to write: that is an error, and nothing of it is acknowledged."""
    stop = Event()
    with sqlite3.connect(ledger.path, isolation_level=None) as other:

        def held() -> None:
            other.execute("BEGIN IMMEDIATE")
            stop.set()

        source = Rows(6, {3: held})
        with pytest.raises(LedgerError, match="busy"):
            feed(intake, source, stop)
        other.rollback()
    assert source.acknowledged == list(range(30))
    assert len(times(ledger)) == 30
