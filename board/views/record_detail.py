"""One line of the record by itself: an entry with what was later said of it, or a proof with its readings."""

from dataclasses import dataclass
from datetime import date, timedelta

from board.ledger import read
from board.ledger.open import Ledger
from board.ledger.state import Entry, Reading
from board.views import names
from board.views.clock_words import DOUBTFUL, doubt_word
from board.views.days import when
from board.views.facts import Facts
from board.views.fed import listed
from board.views.fed_record import FED, fed_detail
from board.views.happened import sentence
from board.views.proofs import Proof, Section
from board.views.record import knowing, proofs_shown
from board.views.shown_cooked import said
from board.views.subjects import load_told
from board.views.text import inert


@dataclass(frozen=True, slots=True)
class Detail:
    """A heading and its lines, each a word and what it says, and the load it is about."""

    title: str
    lines: tuple[tuple[str, str], ...]
    load: str = ""


def detail(ledger: Ledger, facts: Facts, key: str, day: date | None = None) -> Detail | None:
    """All that is known of one line, by its key; None for one that is not there any more."""
    if key.startswith(FED):
        fed = fed_detail(ledger, facts, key)
        return Detail(*fed) if fed else None
    if not key.isdigit():
        proof = next((p for p in proofs_shown(ledger, facts, day) if f"{p.section}|{p.key}" == key), None)
        return proof_detail(facts, proof) if proof else None
    entry = read.entry(ledger, int(key))
    return entry_detail(ledger, facts, entry) if entry else None


def entry_detail(ledger: Ledger, facts: Facts, entry: Entry) -> Detail:
    """An entry: who wrote it when, and each correction, action and undo about it."""
    later = read.entries(ledger, since_seq=entry.seq, kinds=("correction", "action", "undo"))
    about = [e for e in later if e.undoes == entry.seq or e.data.get("entry") == entry.seq]
    known = knowing(ledger, facts, [entry, *about])
    lines = [
        ("entry", str(entry.seq)),
        ("when", when(facts, entry.at)),
        ("by", names.person_name(facts.house, entry.who)),
    ]
    lines += [("told", inert(str(says))) for says in entry.data.get("told", ())]
    if entry.noted_at - entry.at >= timedelta(minutes=1):
        lines.append(("written", when(facts, entry.noted_at)))
    if entry.seq in known.doubts:
        lines.append(("doubtful", f"its time is {doubt_word(known.doubts[entry.seq])}"))
    for one in about:
        taken = " (taken back)" if one.undone else ""
        who = names.person_name(facts.house, one.who)
        lines.append(
            (f"entry {one.seq}", f"{sentence(known, one)}{taken}, {who} {when(facts, one.noted_at)}")
        )
    title = sentence(known, entry) or inert(f"{entry.kind} {entry.subject}")
    return Detail(title, tuple(lines), load_told(entry))


def proof_detail(facts: Facts, proof: Proof) -> Detail:
    """A proof: the verdict with its rule and source, the readings it rests on, and what was done about it."""
    lines = []
    if proof.verdict is not None:
        lines += [
            ("verdict", said(proof.verdict, "" if proof.section is Section.COOKED else proof.verdict.answer)),
            ("rule", inert(f"{proof.verdict.rule}; {proof.verdict.source}")),
        ]
    if proof.ended:
        lines.append(("ended", proof.ended))
    for reading in listed(proof.readings):
        who = names.person_name(facts.house, reading.who)
        at = when(facts, reading.written_at) + (f" {DOUBTFUL}" if reading.is_doubtful else "")
        lines.append((at, f"{_degrees(facts, reading)}  {who}"))
    lines += [("done", inert(str(entry.data["text"]))) for entry in proof.actions]
    _, _, load = proof.key.partition("load:")
    return Detail(inert(proof.what), tuple(lines), load)


def _degrees(facts: Facts, reading: Reading) -> str:
    """A reading as it counts, with what was first written where that was corrected."""
    degrees = names.degrees(facts.house, reading.temperature_c)
    if reading.as_read_c is None:
        return degrees
    return f"{degrees}, first written {names.degrees(facts.house, reading.as_read_c)}"
