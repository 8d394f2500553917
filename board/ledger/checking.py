"""What sets the record right and vouches for it: corrections, actions, probe checks and signatures."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from board.errors import LedgerError
from board.ledger import find, record, store, typed
from board.ledger.append import already, append
from board.ledger.digest import covered, digest
from board.ledger.facts import ReadingFacts
from board.ledger.keys import reading_key, watch_key
from board.ledger.open import Ledger
from board.ledger.signers import Vouched, vouched_for
from board.ledger.state import Entry, ProbeWay
from board.ledger.times import day_text, stamp
from board.ledger.timing import TIMED, check_time, counted_at

CORRECTED = ("reading", "probe", "note", "handover")


@dataclass(frozen=True, slots=True)
class Right:
    """What is right instead: a temperature in °C, the time it was taken, or the words."""

    temperature_c: float | None = None
    taken_at: datetime | None = None
    text: str | None = None


@dataclass(frozen=True, slots=True)
class About:
    """What an action answers: an entry by its number, a watch, or a load of a day."""

    entry: int | None = None
    watch: str | None = None
    load: str | None = None
    day: date | None = None


def correct(
    ledger: Ledger, seq: int, right: Right, why: str = "", *, who: str, at: datetime, noted_at: datetime
) -> Entry:
    """Say what is right in place of what an entry says; that entry stays as it is, and both are shown.

    What is corrected counts as corrected in all that follows from it. Correcting a correction corrects the
    entry it is about. Marks, fires, batches, sales and watches are corrected in their time alone.

    Raises:
        LedgerError: no such entry, one that is taken back or of a kind that is undone instead, nothing
            to change, or a time that is doubtful or contradicts another.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        found = _correctable(ledger, seq, in_time=right.taken_at is not None)
        data = {"entry": found.seq, "of": found.kind, **_day(found), **_right(ledger, found, right, noted_at)}
        if why:
            data["why"] = typed.text(why, "reason")
        same = _as_it_stands(ledger, found)
        if all(same.get(key) == value for key, value in data.items() if key in same):
            raise LedgerError(f"entry {found.seq} says that already; nothing is corrected")
        return append(ledger, said, "correction", found.subject, data)


def act_on(ledger: Ledger, about: About, text: str, *, who: str, at: datetime, noted_at: datetime) -> Entry:
    """Record what was done about something that failed.

    Raises:
        LedgerError: no such entry, watch or load, no words, or a doubtful time.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        data: dict[str, Any] = {"text": typed.text(text, "action")}
        subject = ""
        if about.entry is not None:
            found = record.find(ledger, about.entry)
            if found is None:
                raise LedgerError(f"there is no entry {about.entry}; see the record")
            data |= {"entry": found.seq, **_day(found)}
            subject = found.subject
        elif about.watch is not None:
            if store.stored(ledger, watch_key(about.watch)) is None:
                raise LedgerError(f"there is no watch {about.watch}; see the record")
            data["watch"], subject = about.watch, about.watch
        elif about.load is not None:
            load = find.load(ledger, about.load, _noon(ledger, about.day, said.at))
            data |= {"load": load.id, "day": day_text(load.day)}
            subject = load.id
        else:
            raise LedgerError("say what the action is about: an entry, a watch or a load")
        return append(ledger, said, "action", subject, data)


def check_probe(
    ledger: Ledger,
    probe: str,
    way: ProbeWay,
    temperature_c: float,
    altitude_m: float,
    *,
    who: str,
    at: datetime,
    noted_at: datetime,
) -> Entry:
    """Record what a probe read in ice water or in boiling water, at the house's altitude.

    Raises:
        LedgerError: no kitchen temperature, or a doubtful time.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        data = {
            "way": ProbeWay(way),
            "temperature_c": typed.temperature(temperature_c),
            "altitude_m": float(altitude_m),
        }
        return append(ledger, said, "probe", typed.name(probe, "the probe"), data)


def sign(
    ledger: Ledger,
    since: datetime,
    until: datetime,
    *,
    vouched: Vouched | None = None,
    who: str,
    at: datetime,
    noted_at: datetime,
) -> Entry:
    """Sign the record of a span: who looked it over, and the digest of its entries as they stand.

    `vouched` is that they showed their PIN, in a house that asks for it.

    Raises:
        LedgerError: a span that ends before it begins, one that is all to come, another person's PIN, or a
            doubtful time.
    """
    if until <= since:
        raise LedgerError(f"the span ends at {ledger.clock(until)}, before it begins; turn them round")
    if since > noted_at:
        day = day_text(ledger.day(since))
        raise LedgerError(f"{day} is still to come; sign it when something is in its record")
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        entries = covered(ledger, since, until)
        data = {
            "since": stamp(since),
            "until": stamp(until),
            "entries": len(entries),
            "sha256": digest(entries),
            **vouched_for(said.who, vouched),
        }
        before = _signed(ledger, said.who, data)
        return already(ledger, before) if before else append(ledger, said, "signature", "", data)


def _signed(ledger: Ledger, who: str, data: dict[str, Any]) -> int | None:
    row = ledger.row(
        f"""SELECT seq FROM entries e WHERE kind = 'signature' AND who = ? AND data = ?
        AND {record.STANDS}""",
        (who, record.canonical(data)),
    )
    return int(row["seq"]) if row else None


def _correctable(ledger: Ledger, seq: int, *, in_time: bool) -> Entry:
    found = record.find(ledger, seq)
    if found is not None and found.kind == "correction":
        return _correctable(ledger, int(found.data["entry"]), in_time=in_time)
    if found is None:
        raise LedgerError(f"there is no entry {seq}; see the record for its number")
    if found.undone:
        raise LedgerError(f"entry {seq} was taken back; record it again instead")
    if "pin" in found.data:
        raise LedgerError(f"entry {seq} was signed with a PIN; take it back and sign another instead")
    if found.kind not in CORRECTED and not (in_time and found.kind in TIMED):
        raise LedgerError(
            f"entry {seq} is a {found.kind}; {', '.join(CORRECTED)} are corrected, the rest is undone"
        )
    return found


def _right(ledger: Ledger, found: Entry, right: Right, noted_at: datetime) -> dict[str, Any]:
    """The part of what is right that an entry of that kind can say."""
    data: dict[str, Any] = {}
    if found.kind in ("note", "handover") and right.text is not None:
        data["text"] = typed.text(right.text, found.kind)
    if right.temperature_c is not None and found.kind in ("reading", "probe"):
        data["temperature_c"] = typed.temperature(right.temperature_c)
    if right.taken_at is not None and found.kind in TIMED:
        at = typed.said(ledger, found.who, right.taken_at, noted_at).at
        check_time(ledger, found, at)
        data |= {"at": stamp(at), "was": stamp(counted_at(ledger, found))}
        if found.kind not in CORRECTED:
            data["data"] = found.data
    if not data:
        raise LedgerError("give the right temperature, time or words, as the entry has them")
    return data


def _as_it_stands(ledger: Ledger, found: Entry) -> dict[str, Any]:
    """What an entry says now, its corrections counted, as far as it can be corrected."""
    facts = store.stored(ledger, reading_key(found.seq)) if found.kind == "reading" else None
    if isinstance(facts, ReadingFacts):
        return {"temperature_c": facts.temperature_c, "at": stamp(facts.at)}
    said = {key: found.data[key] for key in ("temperature_c", "text") if key in found.data}
    said["at"] = stamp(counted_at(ledger, found))
    for later in record.corrections_of(ledger, found.seq):
        said |= {key: later.data[key] for key in said if key in later.data}
    return said


def _day(entry: Entry) -> dict[str, Any]:
    """The planned day of the load an entry is about, as its data have it."""
    return {"day": entry.data["day"]} if "day" in entry.data else {}


def _noon(ledger: Ledger, day: date | None, at: datetime) -> datetime:
    """A moment of a day, so that the load of that day is meant."""
    if day is None:
        return at
    return datetime(day.year, day.month, day.day, 12, tzinfo=ledger.zone)
