"""The record of a span as a paged, numbered document for an inspector, with room for signatures."""

from collections.abc import Iterator, Sequence

from board.house.wording import count
from board.ledger.state import Entry
from board.safety.verdict import Answer
from board.sheets.pdf import Document, Grid, Heading, Lines, Part, Sentence, pdf
from board.views import names
from board.views.clock_words import doubt_aside, doubts_told, with_doubt
from board.views.fed import listed
from board.views.inspection import ADVISES, Inspection, exactly, moment_said, probe_verdict
from board.views.probes import as_corrected
from board.views.proofs import Proof, Section
from board.views.shown_cooked import said
from board.views.text import inert

_HEADS = {
    Section.COOKED: "Cooked",
    Section.HOLDING: "Hot and cold holding",
    Section.COOLING: "Cooling, reheating, thawing, tempering",
    Section.MARKS: "Date marks",
}
_ANSWERS = (Answer.PASS, Answer.FAIL, Answer.NOT_SHOWN)
_SHORT = 16  # digits of the digest at the foot of each page: enough to tell two records apart by eye


def record_pdf(view: Inspection) -> bytes:
    """The print-out as the bytes of a PDF."""
    foot = f"{ADVISES} SHA-256 of the entries {view.sha256[:_SHORT]}…"
    return pdf(Document("Record of food safety", view.house.name, view.span, foot, tuple(_parts(view))))


def _parts(view: Inspection) -> Iterator[Part]:
    yield Heading("Record of cooking, cooling and holding", 1)
    yield Sentence(f"{view.house.name}, {view.span}. Printed {moment_said(view.house, view.printed_at)}.")
    yield Sentence(view.rules)
    yield Sentence(ADVISES, bold=True)
    yield from _summary(view)
    yield from (Sentence(says, bold=True) for says in doubts_told(view.facts.doubts))
    yield from _failures(view)
    for section, head in _HEADS.items():
        found = [proof for proof in view.proofs if proof.section is section]
        yield Heading(head)
        if not found:
            yield Sentence("Nothing in this span.")
        for proof in found:
            yield from _proof(view, proof)
    yield from _probes(view)
    yield from _corrections(view)
    yield from _fed(view)
    yield from _all(view)
    yield from _signatures(view)


def _summary(view: Inspection) -> Iterator[Part]:
    """How many of each part are shown, failed, and not shown."""
    rows = []
    for section, head in _HEADS.items():
        answers = [p.verdict.answer for p in view.proofs if p.section is section and p.verdict is not None]
        counts = [str(answers.count(answer)) for answer in _ANSWERS]
        rows.append((head, *counts))
    checked, bad = sum(not entry.undone for entry in view.of_kind("probe")), len(view.bad_probes)
    rows.append(("Probe checks", str(checked - bad), str(bad), ""))
    yield Grid(("", *map(str, _ANSWERS)), rows, (5, 1, 1, 1))


def _proof(view: Inspection, proof: Proof) -> Iterator[Part]:
    """One load, watch or place: its rule, the verdict, its readings, and what was done about it."""
    house, verdict = view.house, proof.verdict
    since = "off the pit" if proof.section is Section.COOKED else "from"
    yield Heading(f"{proof.what}, {since} {moment_said(house, proof.at)}", 3)
    if verdict is not None:
        text = said(verdict, "" if proof.section is Section.COOKED else verdict.answer)
        yield Sentence(f"{text[0].upper()}{text[1:]}", bold=proof.failed)
        yield Sentence(f"Rule: {verdict.rule}. Source: {verdict.source}.", small=True)
    if proof.ended:
        yield Sentence(f"It ended: {proof.ended}.")
    yield from (Sentence(f"Done about it: {_by(view, entry)}") for entry in proof.actions)
    rows = []
    for reading in listed(proof.readings):
        first = exactly(house, reading.as_read_c) if reading.as_read_c is not None else ""
        who = names.person_name(house, reading.who)
        rows.append(
            (
                str(reading.seq),
                with_doubt(view.facts.doubts, reading.seq, moment_said(house, reading.written_at)),
                exactly(house, reading.temperature_c),
                first,
                who,
            )
        )
    if rows:
        yield Grid(("entry", "taken", "temperature", "first written", "by"), rows, (1, 2, 2, 2, 3))
    elif verdict is None:
        yield Sentence("No reading.")


def _by(view: Inspection, entry: Entry) -> str:
    who = names.person_name(view.house, entry.who)
    return inert(f"{entry.data['text']} ({who}, {moment_said(view.house, entry.at)}, entry {entry.seq})")


def _told(view: Inspection, entry: Entry) -> str:
    return view.says(entry) + (" (taken back)" if entry.undone else "")


def _table(heads: Sequence[str], rows: Sequence[Sequence[str]], widths: Sequence[float], none: str) -> Part:
    """A table, or a sentence where there is nothing to put in it."""
    return Grid(heads, rows, widths) if rows else Sentence(none)


def _probes(view: Inspection) -> Iterator[Part]:
    yield Heading("Probe checks")
    rows = []
    for entry in view.of_kind("probe"):
        if entry.undone:
            continue
        data = as_corrected(view.facts, entry)
        rows.append(
            (
                str(entry.seq),
                moment_said(view.house, entry.at),
                entry.subject,
                probe_verdict(view.house, data),
                names.person_name(view.house, entry.who),
            )
        )
    yield _table(("entry", "checked", "probe", "found", "by"), rows, (1, 2, 2, 7, 2), "None in this span.")


def _failures(view: Inspection) -> Iterator[Part]:
    yield Heading("What failed, and what was done about it")
    rows = []
    for proof in view.failed:
        why = proof.verdict.why if proof.verdict is not None else proof.ended
        done = "; ".join(_by(view, entry) for entry in proof.actions)
        rows.append((proof.what, why, done or proof.ended or "nothing is written"))
    yield _table(("what", "why", "done"), rows, (2, 4, 4), "Nothing failed in this span.")
    for entry in view.bad_probes:
        found = probe_verdict(view.house, as_corrected(view.facts, entry))
        yield Sentence(f"probe {entry.subject}, entry {entry.seq}: {found}", bold=True)
    told = {entry.seq for proof in view.proofs for entry in proof.actions}
    others = [entry for entry in view.of_kind("action") if entry.seq not in told and not entry.undone]
    yield from (Sentence(f"Also done: {_by(view, entry)}") for entry in others)


def _corrections(view: Inspection) -> Iterator[Part]:
    yield Heading("Corrections, and what was taken back")
    yield Sentence("What was first written stays; the right value stands beside it.", small=True)
    rows = [
        (
            str(entry.seq),
            moment_said(view.house, entry.noted_at),
            _told(view, entry),
            names.person_name(view.house, entry.who),
        )
        for entry in view.of_kind("correction", "undo")
    ]
    yield _table(("entry", "written", "what", "by"), rows, (1, 2, 7, 2), "None in this span.")


def _fed(view: Inspection) -> Iterator[Part]:
    """What probes sent by themselves, a line each; none where none did."""
    if view.fed:
        yield Heading("What probes fed")
        rows = [(names.person_name(view.house, one.probe), view.fed_says(one)) for one in view.fed]
        yield _table(("probe", "what"), rows, (2, 9), "None.")


def _all(view: Inspection) -> Iterator[Part]:
    yield Heading("Every entry of the span")
    rows = [
        (
            str(entry.seq),
            with_doubt(view.facts.doubts, entry.seq, moment_said(view.house, entry.at)),
            moment_said(view.house, entry.noted_at) if entry.noted_at != entry.at else "",
            _told(view, entry) + doubt_aside(view.facts.doubts, entry.seq),
            names.person_name(view.house, entry.who),
        )
        for entry in view.told
    ]
    yield _table(("entry", "happened", "written", "what", "by"), rows, (1, 2, 2, 7, 2), "None.")
    yield Sentence(f"{count(len(view.entries), 'entry')}. SHA-256 of them: {view.sha256}", small=True)
    yield Sentence(f"Whole record, for board doctor --printed: {view.whole}", small=True)


def _signatures(view: Inspection) -> Iterator[Part]:
    yield Heading("Signatures")
    for one in view.signed:
        who = names.person_name(view.house, one.who)
        state = "nothing was added since" if one.unchanged else "entries were added since"
        when = moment_said(view.house, one.at)
        pin = " with a PIN" if one.pin else ""
        signed = f"{who} signed this span in the ledger{pin}, {when}: {state}"
        yield Sentence(f"{signed}. SHA-256 then: {one.sha256}")
    if not view.signed:
        yield Sentence("Nobody has signed this span in the ledger.")
    yield Lines(("Person in charge, date", "Inspector, date"))
