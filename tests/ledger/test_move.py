"""Loads carried over to another pit while they cook."""

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from sqlite_utils import Database

from board.errors import LedgerError
from board.ledger import read, write
from board.ledger.keys import load_key
from board.ledger.open import Ledger, open_ledger
from board.ledger.state import LoadStage
from board.ledger.store import rebuilt, stored

from .by_hand import DAY, EVENING, LOADED, brisket, plan
from .test_write import BRISKET, HOUR, by


def on(ledger: Ledger) -> None:
    """The brisket goes on North."""
    write.mark_load(ledger, BRISKET, LoadStage.ON, **by("Ines", LOADED))


def test_a_load_moves_and_keeps_where_it_came_from(planned: Ledger) -> None:
    """After the move the load is on the new pit since then; undone, it is where the plan put it."""
    on(planned)
    before = read.load_states(planned, DAY)[0]
    entry = write.move_load(planned, BRISKET, "south", **by("Ines", LOADED + HOUR))
    assert (entry.kind, entry.data["from"], entry.data["pit"]) == ("move", "north", "south")
    state = read.load_states(planned, DAY)[0]
    assert (state.pit, state.moved_from, state.moved_at) == ("south", "north", LOADED + HOUR)
    assert state.stage is LoadStage.ON
    write.undo(planned, **by("Ines", LOADED + HOUR))
    assert read.load_states(planned, DAY)[0] == before


def test_a_second_person_finds_the_move_recorded(planned: Ledger) -> None:
    """The same move marked twice is one entry."""
    on(planned)
    first = write.move_load(planned, BRISKET, "south", **by("Ines", LOADED + HOUR))
    again = write.move_load(planned, BRISKET, "south", **by("Ada", LOADED + HOUR + timedelta(minutes=2)))
    assert again.already
    assert again.seq == first.seq


def test_only_a_load_on_a_pit_moves(planned: Ledger) -> None:
    """Not before it is on, not to where it is, not after it came off, and not before it went on."""
    with pytest.raises(LedgerError, match="not marked on yet"):
        write.move_load(planned, BRISKET, "south", **by("Ines", LOADED))
    on(planned)
    with pytest.raises(LedgerError, match="is on north already"):
        write.move_load(planned, BRISKET, "north", **by("Ines", LOADED + HOUR))
    with pytest.raises(LedgerError, match="came to its pit at"):
        write.move_load(planned, BRISKET, "south", **by("Ines", LOADED - HOUR))
    write.mark_load(planned, BRISKET, LoadStage.PULLED, **by("Ines", LOADED + HOUR))
    with pytest.raises(LedgerError, match="on no pit after that"):
        write.move_load(planned, BRISKET, "south", **by("Ines", LOADED + 2 * HOUR))


def test_the_story_around_a_move_stays_possible(planned: Ledger) -> None:
    """The loading is not undone under a move, and a pull is not before it."""
    on(planned)
    loaded = read.entries(planned, since_seq=0)[-1]
    write.move_load(planned, BRISKET, "south", **by("Ines", LOADED + 2 * HOUR))
    with pytest.raises(LedgerError, match="undo the move first"):
        write.undo(planned, loaded.seq, **by("Ines", LOADED + 3 * HOUR))
    with pytest.raises(LedgerError, match="was moved at"):
        write.mark_load(planned, BRISKET, LoadStage.PULLED, **by("Ines", LOADED + HOUR))


def test_an_older_ledger_learns_to_move(path: Path, planned: Ledger) -> None:
    """A ledger written before loads could move gets its columns when it is opened, its loads unchanged."""
    before = read.load_states(planned, DAY)
    planned.close()
    old = Database(path)
    for column in ("moved_at", "moved_from"):
        old.execute(f"ALTER TABLE loads DROP COLUMN {column}")
    old.execute("DELETE FROM _sqlite_migrations WHERE name LIKE '0002%'")
    old.conn.commit()
    old.conn.close()
    with open_ledger(path) as opened:
        assert read.load_states(opened, DAY) == before


def in_a_zone(ledger: Ledger) -> None:
    """The brisket planned on the lower shelves of North, and on."""
    write.commit_plan(ledger, plan(replace(brisket(), zone="lower")), **by("Ada", EVENING))
    on(ledger)


def test_a_load_moves_between_zones(ledger: Ledger) -> None:
    """A zone of the same pit is another place; both zones are kept, and undone it is where it was."""
    in_a_zone(ledger)
    assert read.load_states(ledger, DAY)[0].zone == "lower"
    with pytest.raises(LedgerError, match="is on north already"):
        write.move_load(ledger, BRISKET, "north", zone="lower", **by("Ines", LOADED + HOUR))
    write.move_load(ledger, BRISKET, "north", zone="upper", **by("Ines", LOADED + HOUR))
    state = read.load_states(ledger, DAY)[0]
    assert (state.pit, state.zone, state.moved_from, state.moved_from_zone) == (
        "north",
        "upper",
        "north",
        "lower",
    )
    write.undo(ledger, **by("Ines", LOADED + HOUR))
    assert read.load_states(ledger, DAY)[0].zone == "lower"


def test_a_zone_does_not_go_along_to_another_pit(ledger: Ledger) -> None:
    """A load carried to a pit without naming a zone there is in none that is known."""
    in_a_zone(ledger)
    write.move_load(ledger, BRISKET, "south", **by("Ines", LOADED + HOUR))
    state = read.load_states(ledger, DAY)[0]
    assert (state.zone, state.moved_from_zone) == (None, "lower")


def test_a_load_goes_on_in_another_zone_than_planned(ledger: Ledger) -> None:
    """Marked on with a zone it is there; on another pit the planned zone is forgotten."""
    write.commit_plan(ledger, plan(replace(brisket(), zone="lower")), **by("Ada", EVENING))
    write.mark_load(ledger, BRISKET, LoadStage.ON, zone="upper", **by("Ines", LOADED))
    assert read.load_states(ledger, DAY)[0].zone == "upper"
    write.undo(ledger, **by("Ines", LOADED))
    write.mark_load(ledger, BRISKET, LoadStage.ON, pit="south", **by("Ines", LOADED))
    assert read.load_states(ledger, DAY)[0].zone is None


@pytest.mark.parametrize("moved", [False, True])
def test_an_older_ledger_learns_of_zones(path: Path, ledger: Ledger, moved: bool) -> None:
    """A ledger written before loads had zones is filled from its plans, as the record alone tells them."""
    in_a_zone(ledger)
    if moved:
        write.move_load(ledger, BRISKET, "south", **by("Ines", LOADED + HOUR))
    ledger.close()
    old = Database(path)
    for column in ("zone", "moved_from_zone"):
        old.execute(f"ALTER TABLE loads DROP COLUMN {column}")
    old.execute("DELETE FROM _sqlite_migrations WHERE name LIKE '0005%'")
    old.conn.commit()
    old.conn.close()
    with open_ledger(path) as opened:
        key = load_key(DAY, BRISKET)
        assert stored(opened, key) == rebuilt(opened, key)
        assert read.load_states(opened, DAY)[0].zone == (None if moved else "lower")
