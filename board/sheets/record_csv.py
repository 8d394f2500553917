"""The record of a span as a table for a spreadsheet: a row a verdict, then a row an entry, nothing left out.

A text that a spreadsheet would take for a formula begins with an apostrophe, as OWASP advises.
"""

import csv
import io
import json
from collections.abc import Iterator

from board.house.calendar import with_offset
from board.house.degrees import to_fahrenheit
from board.ledger.state import Entry
from board.sheets.cells import cell
from board.views.clock_words import doubt_word
from board.views.inspection import Inspection
from board.views.obeyed import escaped
from board.views.proofs import Proof

COLUMNS = (
    "part",
    "entry",
    "happened_at",
    "written_at",
    "time_doubtful",
    "who",
    "kind",
    "subject",
    "says",
    "temperature_c",
    "temperature_f",
    "corrected_to_c",
    "corrected_to_f",
    "corrected_by_entry",
    "taken_back",
    "verdict",
    "rule",
    "why",
    "lethality_log10",
    "done_about_it",
    "data",
)


def record_csv(view: Inspection) -> str:
    """The table as CSV (RFC 4180)."""
    out = io.StringIO()
    writer = csv.DictWriter(out, COLUMNS, restval="", lineterminator="\r\n")
    writer.writeheader()
    for row in (*_proofs(view), *_fed(view), *_entries(view)):
        writer.writerow({key: cell(value) for key, value in row.items()})
    return out.getvalue()


def _proofs(view: Inspection) -> Iterator[dict[str, object]]:
    for proof in view.proofs:
        yield {
            "part": str(proof.section),
            "happened_at": with_offset(proof.at, view.house),
            "kind": "verdict",
            "subject": proof.key,
            "says": f"{proof.what}{f', {proof.ended}' if proof.ended else ''}",
            "done_about_it": "; ".join(str(entry.data["text"]) for entry in proof.actions),
            **_verdict(proof),
        }


def _verdict(proof: Proof) -> dict[str, object]:
    verdict = proof.verdict
    if verdict is None:
        return {}
    lethality = "" if verdict.lethality_log10 is None else verdict.lethality_log10
    return {
        "verdict": str(verdict.answer),
        "rule": f"{verdict.rule}; {verdict.source}",
        "why": verdict.why,
        "lethality_log10": lethality,
    }


def _fed(view: Inspection) -> Iterator[dict[str, object]]:
    for one in view.fed:
        yield {
            "part": "fed",
            "happened_at": with_offset(one.first_at, view.house),
            "who": one.probe,
            "kind": "fed",
            "subject": one.probe,
            "says": view.fed_says(one),
        }


def _entries(view: Inspection) -> Iterator[dict[str, object]]:
    doubts = view.facts.doubts
    for entry in view.told:
        right = view.facts.corrected.get(entry.seq)
        yield {
            "part": "entry",
            "entry": entry.seq,
            "happened_at": with_offset(entry.at, view.house),
            "written_at": with_offset(entry.noted_at, view.house),
            "time_doubtful": doubt_word(doubts[entry.seq]) if entry.seq in doubts else "",
            "who": entry.who,
            "kind": entry.kind,
            "subject": entry.subject,
            "says": view.says(entry),
            **_degrees("temperature", entry),
            **_degrees("corrected_to", right),
            "corrected_by_entry": right.seq if right else "",
            "taken_back": "yes" if entry.undone else "",
            "data": _data(entry),
        }


def _degrees(column: str, entry: Entry | None) -> dict[str, object]:
    """What an entry measured, in both scales."""
    celsius = entry.data.get("temperature_c") if entry else None
    if celsius is None:
        return {}
    return {f"{column}_c": celsius, f"{column}_f": round(to_fahrenheit(celsius), 1)}


def _data(entry: Entry) -> str:
    return escaped(json.dumps(entry.data, ensure_ascii=False, sort_keys=True))
