"""Corrections that keep what they correct, actions, probe checks, and signatures over a span."""

from datetime import date, timedelta

import pytest

from board.errors import LedgerError
from board.ledger import read, write
from board.ledger.checking import About, Right
from board.ledger.digest import covered, digest
from board.ledger.open import Ledger
from board.ledger.state import ProbeWay, WatchKind
from board.ledger.watching import Watched

from .by_hand import DAY, EVENING
from .test_write import by

DAY_OFF = timedelta(days=1)


def said(minutes: float = 0, who: str = "Ines") -> dict[str, object]:
    """Who and when, so many minutes after the evening began."""
    return by(who, EVENING + timedelta(minutes=minutes))


def test_a_corrected_reading_counts_as_corrected_and_keeps_what_it_said(planned: Ledger) -> None:
    """The reading has the right value; the entry and the reading's first value stay as they were."""
    first = write.take_reading(planned, 167.0, load="1209-brisket-1", **said())
    fixed = write.correct(planned, first.seq, Right(temperature_c=75.0), "read in °F", **said(1))
    (reading,) = read.readings(planned, load="1209-brisket-1")
    assert (reading.temperature_c, reading.as_read_c, reading.corrected_by) == (75.0, 167.0, fixed.seq)
    assert read.entry(planned, first.seq) == first
    said_right = {"temperature_c": 75.0, "why": "read in °F", "day": str(DAY)}
    assert fixed.data == {"entry": first.seq, "of": "reading", **said_right}


def test_correcting_a_correction_corrects_the_first_entry(planned: Ledger) -> None:
    """The last correction holds, and taking it back brings the one before back."""
    first = write.take_reading(planned, 40.0, place="walk-in", **said())
    second = write.correct(planned, first.seq, Right(temperature_c=4.0), **said(1))
    third = write.correct(planned, second.seq, Right(temperature_c=5.0), **said(2))
    assert third.data["entry"] == first.seq
    assert [(r.temperature_c, r.as_read_c) for r in read.readings(planned)] == [(5.0, 40.0)]
    write.undo(planned, third.seq, **said(3))
    assert [(r.temperature_c, r.as_read_c) for r in read.readings(planned)] == [(4.0, 40.0)]
    write.undo(planned, second.seq, **said(4))
    assert [(r.temperature_c, r.as_read_c) for r in read.readings(planned)] == [(40.0, None)]


def test_the_time_of_a_reading_is_corrected(planned: Ledger) -> None:
    """A reading written down against the wrong hour stands at the right one."""
    first = write.take_reading(planned, 40.0, place="walk-in", **said(60))
    write.correct(planned, first.seq, Right(taken_at=EVENING), **said(61))
    assert [r.at for r in read.readings(planned)] == [EVENING]
    with pytest.raises(LedgerError, match="still to come"):
        write.correct(planned, first.seq, Right(taken_at=EVENING + DAY_OFF), **said(62))


def test_words_are_corrected_beside_the_old(planned: Ledger) -> None:
    """A note's right words are an entry of their own."""
    note = write.note(planned, "South ran hot", **said())
    write.correct(planned, note.seq, Right(text="North ran hot"), **said(1))
    assert read.entry(planned, note.seq).data["text"] == "South ran hot"  # type: ignore[union-attr]


@pytest.mark.parametrize("right", [Right(), Right(temperature_c=40.0)], ids=["nothing", "the same"])
def test_a_correction_that_changes_nothing_is_refused(planned: Ledger, right: Right) -> None:
    """There is nothing to keep beside the old value."""
    first = write.take_reading(planned, 40.0, place="walk-in", **said())
    with pytest.raises(LedgerError, match=r"give the right|says that already"):
        write.correct(planned, first.seq, right, **said(1))


def test_what_is_undone_or_of_another_kind_is_not_corrected(planned: Ledger) -> None:
    """A mark is undone and made again; what was taken back is recorded again."""
    lit = write.light(planned, "north", 118.0, **said())
    with pytest.raises(LedgerError, match="is a light; reading, probe, note, handover are corrected"):
        write.correct(planned, lit.seq, Right(temperature_c=110.0), **said(1))
    first = write.take_reading(planned, 40.0, place="walk-in", **said(2))
    write.undo(planned, first.seq, **said(3))
    with pytest.raises(LedgerError, match="was taken back"):
        write.correct(planned, first.seq, Right(temperature_c=4.0), **said(4))


def test_a_reading_taken_back_is_gone_with_its_corrections(planned: Ledger) -> None:
    """No reading stands that nobody took."""
    first = write.take_reading(planned, 40.0, place="walk-in", **said())
    write.correct(planned, first.seq, Right(temperature_c=4.0), **said(1))
    write.undo(planned, first.seq, **said(2))
    assert read.readings(planned) == []


def test_an_action_names_what_it_answers(planned: Ledger) -> None:
    """An entry, a watch or a load of a day; anything unknown is refused."""
    reading = write.take_reading(planned, 50.0, place="hold", **said())
    watch = write.start_watch(planned, Watched(WatchKind.COOLING, "beans"), **said(1)).subject
    acts = [
        write.act_on(planned, about, "put back in the oven to 74 °C", **said(2))
        for about in (About(entry=reading.seq), About(watch=watch), About(load="1209-brisket-1", day=DAY))
    ]
    assert [act.subject for act in acts] == ["hold", watch, "1209-brisket-1"]
    for about in (About(entry=999), About(watch="x"), About(load="x", day=DAY), About()):
        with pytest.raises(LedgerError):
            write.act_on(planned, about, "thrown away", **said(3))


def test_a_probe_check_keeps_the_altitude_it_was_judged_at(ledger: Ledger) -> None:
    """Water boils cooler higher up, so the height belongs to the record."""
    entry = write.check_probe(ledger, "red probe", ProbeWay.BOILING, 94.6, 1600.0, **said())
    assert entry.data == {"way": "boiling", "temperature_c": 94.6, "altitude_m": 1600.0}


def test_a_span_covers_what_was_later_said_of_it(planned: Ledger) -> None:
    """A correction, an action and an undo of later days belong to the span of what they are about."""
    late, until = 60 * 48, EVENING + DAY_OFF
    first = write.take_reading(planned, 50.0, place="hold", **said())
    gone = write.note(planned, "wrong day", **said(1))
    watch = write.start_watch(planned, Watched(WatchKind.COOLING, "beans"), **said(2))
    other = write.take_reading(planned, 51.0, place="hold", **said(late))
    later = [
        write.correct(planned, first.seq, Right(temperature_c=60.0), **said(late)),
        write.act_on(planned, About(watch=watch.subject), "thrown away", **said(late)),
        write.undo(planned, gone.seq, **said(late)),
    ]
    write.act_on(planned, About(entry=other.seq), "stirred", **said(late))
    found = covered(planned, EVENING, until)
    assert [e.seq for e in found] == [first.seq, gone.seq, watch.seq, *(e.seq for e in later)]


def test_the_digest_tells_a_record_from_any_other(planned: Ledger) -> None:
    """One entry more, left out, or altered changes it; the same entries give the same digits."""
    write.take_reading(planned, 50.0, place="hold", **said())
    write.take_reading(planned, 51.0, place="hold", **said(1))
    until = EVENING + DAY_OFF
    entries = covered(planned, EVENING, until)
    assert digest(entries) == digest(covered(planned, EVENING, until))
    assert len(digest(entries)) == 64
    assert len({digest(entries), digest(entries[:1]), digest(entries[::-1])}) == 3


def test_a_signature_holds_the_digest_and_is_not_part_of_it(planned: Ledger) -> None:
    """Signed twice by one person with nothing new between is one signature; two people sign each."""
    write.take_reading(planned, 50.0, place="hold", **said())
    until = EVENING + DAY_OFF
    signed = write.sign(planned, EVENING, until, **said(1))
    assert signed.data["sha256"] == digest(covered(planned, EVENING, until))
    assert write.sign(planned, EVENING, until, **said(2)).seq == signed.seq
    assert write.sign(planned, EVENING, until, **said(3, "Ada")).data == signed.data
    write.take_reading(planned, 52.0, place="hold", **said(4))
    assert write.sign(planned, EVENING, until, **said(5)).data["sha256"] != signed.data["sha256"]
    with pytest.raises(LedgerError, match="before it begins"):
        write.sign(planned, until, EVENING, **said(6))


def test_the_day_of_a_load_may_be_left_out(planned: Ledger) -> None:
    """Without its day the load nearest the moment is meant."""
    act = write.act_on(planned, About(load="1209-brisket-1"), "cooked on to 95 °C", **said())
    assert act.data["day"] == str(date(2026, 12, 9))
