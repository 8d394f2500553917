"""What the keys of watches, corrections and probe checks write, each told back in a sentence."""

from datetime import date

from board.app.acting import Said, Told, said, tell
from board.app.session import Session
from board.app.typed import temperature_c
from board.errors import BoardError, LedgerError
from board.house.calendar import day_bounds, local
from board.house.put_file import put_file
from board.house.wording import day_name
from board.ledger import write
from board.ledger.checking import About, Right
from board.ledger.facts import WatchFacts
from board.ledger.state import Entry, ProbeWay, WatchEnd, WatchKind
from board.ledger.watching import Watched
from board.views import names
from board.views.facts import Facts, find_watch, load_of, load_state
from board.views.gather import WALK_IN
from board.views.reference import parts

FREEZE, TAKE_OUT = "freeze", "take out"
DEGREES = ("reading", "probe")


def start(session: Session, watched: Watched) -> Told:
    """Begin to watch some food."""
    return tell(session, write.start_watch(session.ledger, watched, **said(session)))


def cool_leftovers(session: Session, facts: Facts, key: str) -> Told:
    """Begin to cool what is left of a load, by the load's key."""
    found = load_of(facts, key)
    if found is None:
        raise LedgerError("choose a load first: no load is on this line")
    plan, load = found
    state = load_state(facts, load, plan.day)
    if state.pulled_at is None:
        raise LedgerError(
            f"{names.the_pieces(facts.house, load)} are not off the pit; nothing is left to cool"
        )
    left = f"{state.portions_left} portions" if state.portions_left else None
    return start(
        session,
        Watched(
            WatchKind.COOLING,
            names.cut_name(facts.house, load.cut),
            amount=left,
            load=load.id,
            place=WALK_IN,
            made_on=local(state.pulled_at, facts.house).date(),
        ),
    )


def end(session: Session, facts: Facts, watch_id: str, how: str) -> Told:
    """End a watch as done, used or discarded, or move its lot in or out of the freezer.

    What is cooled becomes a date-marked lot at once: two entries, and `u` takes back the one, then the other.
    """
    given = said(session)
    if how == FREEZE:
        return tell(session, write.freeze(session.ledger, watch_id, **given))
    if how == TAKE_OUT:
        return tell(session, write.take_out(session.ledger, watch_id, **given))
    watch = find_watch(facts, watch_id)
    if watch is None or watch.kind is not WatchKind.COOLING or how != WatchEnd.DONE:
        return tell(session, write.end_watch(session.ledger, watch_id, WatchEnd(how), **given))
    with session.ledger.writing():
        ended = write.end_watch(session.ledger, watch_id, WatchEnd.DONE, **given)
        lot = write.start_watch(session.ledger, _lot(facts, watch), **given)
    told = tell(session, lot)
    return Told(f"{told.says}, lot {lot.subject}", sum(not entry.already for entry in (ended, lot)))


def _lot(facts: Facts, watch: WatchFacts) -> Watched:
    return Watched(
        WatchKind.DATE_MARKED,
        watch.what,
        amount=watch.amount,
        place=watch.place,
        from_watch=watch.id,
        made_on=watch.made_on or local(watch.started_at, facts.house).date(),
    )


def correct(session: Session, entry: Entry, typed: str) -> Told:
    """Put an entry right by what was typed: a temperature, or other words."""
    right = Right(temperature_c=typed_c(session, typed)) if entry.kind in DEGREES else Right(text=typed)
    return tell(session, write.correct(session.ledger, entry.seq, right, **said(session)))


def put_out(session: Session, pit: str) -> Told:
    """Record that a fire was put out."""
    return tell(session, write.put_out(session.ledger, pit, **said(session)))


def act_on(session: Session, about: About, text: str) -> Told:
    """Record what was done about something that failed."""
    return tell(session, write.act_on(session.ledger, about, text, **said(session)))


def check_probe(session: Session, probe: str, way: str, celsius: float) -> Told:
    """Record what a probe read in ice or in boiling water."""
    from board.views.probes import probe_word

    given: Said = said(session)
    altitude_m = session.house.altitude_m
    entry = write.check_probe(session.ledger, probe, ProbeWay(way), celsius, altitude_m, **given)
    told = tell(session, entry)
    return Told(f"{told.says}: {probe_word(session.house, entry.data)}", told.entries)


def typed_c(session: Session, typed: str) -> float:
    """What was typed in °C; bare digits are in the house's degrees.

    Raises:
        QuantityError: not a temperature.
    """
    return temperature_c(typed, session.house.display)


def print_record(session: Session, day: date) -> str:
    """Write the print-out of a day beside the ledger, and say where.

    Raises:
        LedgerError: nothing here prints, or the file cannot be written.
    """
    from board.views.inspection import inspection

    if session.record_printer is None:
        raise LedgerError("nothing here prints: board record --pdf FILE does")
    since, until = day_bounds(day, session.house.zone)
    view = inspection(session.ledger, session.house, since, until, session.clock.now())
    path = session.ledger.path.with_name(f"record-{day.isoformat()}.pdf")
    put_file(path, session.record_printer(view))
    return f"the record of {day_name(day)} is written to {path}"


def meant(about: str) -> About:
    """What an action answers, from `entry:SEQ`, `watch:ID` or `load:DAY/ID`."""
    kind, _, id = about.partition(":")
    if kind == "entry":
        return About(entry=int(id))
    if kind == "watch":
        return About(watch=id)
    if kind == "load":
        day, load = parts(id)
        return About(load=load, day=day)
    raise BoardError("choose a line first")
