"""Food watched under a rule, its days in the freezer, and what became of it."""

from datetime import date, timedelta

import pytest

from board.errors import LedgerError
from board.ledger import read, write
from board.ledger.open import Ledger
from board.ledger.state import LoadStage, WatchEnd, WatchKind
from board.ledger.watching import Watched

from .by_hand import DAY, LOADED
from .test_write import by

PULLED = LOADED + timedelta(hours=12)
TUB = Watched(WatchKind.COOLING, "pulled pork", amount="2 pans", place="walk-in", load="1209-brisket-1")


def said(minutes: float = 0, who: str = "Ines") -> dict[str, object]:
    """Who and when, so many minutes after the pull."""
    return by(who, PULLED + timedelta(minutes=minutes))


def test_a_watch_tells_what_it_is_over_and_is_named_by_its_day(planned: Ledger) -> None:
    """The name is the house's date, its kind and a number; the load it came from is of its day."""
    entry = write.start_watch(planned, TUB, **said())
    (watch,) = read.watches(planned)
    assert watch.id == entry.subject == "1209-cooling-1"
    assert (watch.what, watch.amount, watch.place) == ("pulled pork", "2 pans", "walk-in")
    assert (watch.load, watch.load_day, watch.started_by) == ("1209-brisket-1", DAY, "Ines")


def test_its_readings_are_of_its_name(planned: Ledger) -> None:
    """A reading with the watch as its place is found with it."""
    watch = write.start_watch(planned, TUB, **said()).subject
    write.take_reading(planned, 40.0, place=watch, **said(60))
    assert [r.temperature_c for r in read.readings(planned, place=watch)] == [40.0]


def test_two_people_who_begin_the_same_watch_begin_one(planned: Ledger) -> None:
    """The second is given the first one's; another pan is another watch."""
    first = write.start_watch(planned, TUB, **said())
    again = write.start_watch(planned, TUB, **said(1, "Ada"))
    assert again.already
    assert again.seq == first.seq
    other = write.start_watch(planned, Watched(WatchKind.COOLING, "beans"), **said(2))
    assert other.subject == "1209-cooling-2"


def test_a_watch_ends_once(planned: Ledger) -> None:
    """Ended alike again is the same entry; ended otherwise is refused until that is undone."""
    watch = write.start_watch(planned, TUB, **said()).subject
    ended = write.end_watch(planned, watch, WatchEnd.DONE, **said(200))
    assert write.end_watch(planned, watch, WatchEnd.DONE, **said(201)).seq == ended.seq
    with pytest.raises(LedgerError, match="was done at"):
        write.end_watch(planned, watch, WatchEnd.DISCARDED, **said(202))
    assert read.watches(planned) == []
    assert [w.how for w in read.watches(planned, since=PULLED)] == [WatchEnd.DONE]


def test_nothing_ends_before_it_began(planned: Ledger) -> None:
    """A time before the start is refused with that start."""
    watch = write.start_watch(planned, TUB, **said()).subject
    with pytest.raises(LedgerError, match="began at"):
        write.end_watch(planned, watch, WatchEnd.DONE, **said(-1))


def test_an_unknown_watch_is_refused_with_those_there_are(planned: Ledger) -> None:
    """The sentence names what may be meant."""
    write.start_watch(planned, TUB, **said())
    with pytest.raises(LedgerError, match="there is no watch tub; there are 1209-cooling-1"):
        write.end_watch(planned, "tub", WatchEnd.DONE, **said(1))


def test_undo_takes_back_the_end_then_the_start(planned: Ledger) -> None:
    """A start is not undone under its end, and a name once given is not given again."""
    start = write.start_watch(planned, TUB, **said())
    end = write.end_watch(planned, start.subject, WatchEnd.USED, **said(5))
    with pytest.raises(LedgerError, match="undo that first"):
        write.undo(planned, start.seq, **said(6))
    write.undo(planned, end.seq, **said(6))
    write.undo(planned, start.seq, **said(7))
    assert read.watches(planned, since=PULLED - timedelta(days=1)) == []
    assert write.start_watch(planned, TUB, **said(8)).subject == "1209-cooling-2"


def test_a_lot_goes_in_and_out_of_the_freezer_in_turn(planned: Ledger) -> None:
    """Its days there are kept, the last one open while it is in; a cooling tub is not frozen."""
    lot = Watched(WatchKind.DATE_MARKED, "pulled pork", made_on=date(2026, 12, 9))
    name = write.start_watch(planned, lot, **said()).subject
    write.freeze(planned, name, **said(60))
    with pytest.raises(LedgerError, match="in the freezer already"):
        write.freeze(planned, name, **said(61))
    assert read.watch(planned, name).frozen == "2026-12-09/"  # type: ignore[union-attr]
    write.take_out(planned, name, **said(60 * 24 * 4))
    write.freeze(planned, name, **said(60 * 24 * 5))
    assert read.watch(planned, name).frozen == "2026-12-09/2026-12-13 2026-12-14/"  # type: ignore[union-attr]
    tub = write.start_watch(planned, TUB, **said()).subject
    with pytest.raises(LedgerError, match="only a date-marked lot"):
        write.freeze(planned, tub, **said(1))


def test_going_into_the_freezer_is_not_undone_under_coming_out(planned: Ledger) -> None:
    """What is left must be a story that can be."""
    lot = write.start_watch(planned, Watched(WatchKind.DATE_MARKED, "ham"), **said()).subject
    frozen = write.freeze(planned, lot, **said(1))
    write.take_out(planned, lot, **said(2))
    with pytest.raises(LedgerError, match="undo it first"):
        write.undo(planned, frozen.seq, **said(3))


def test_a_watch_of_a_load_no_plan_knows_is_refused(planned: Ledger) -> None:
    """The load must be one of the ledger's."""
    with pytest.raises(LedgerError, match="there is no load ox"):
        write.start_watch(planned, Watched(WatchKind.COOLING, "ox", load="ox"), **said())


def test_a_load_is_watched_whatever_its_stage(planned: Ledger) -> None:
    """Leftovers of a load that is served are cooled all the same."""
    write.mark_load(planned, "1209-brisket-1", LoadStage.ON, who="Ines", at=LOADED, noted_at=LOADED)
    write.mark_load(planned, "1209-brisket-1", LoadStage.PULLED, **said())
    write.mark_load(planned, "1209-brisket-1", LoadStage.SERVED, **said(30))
    assert write.start_watch(planned, TUB, **said(40)).data["load"] == "1209-brisket-1"
