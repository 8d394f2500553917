"""The record of a span as one document for other programs."""

from typing import Any

from board.house.calendar import with_offset
from board.safety.tables import edition
from board.safety.verdict import Verdict
from board.views.clock_words import doubt_document
from board.views.inspection import Inspection
from board.views.proofs import Proof


def record_document(view: Inspection) -> dict[str, Any]:
    """The document; times with the house's offset, temperatures in °C."""
    return {
        "house": view.house.name,
        "jurisdiction": view.house.jurisdiction,
        "edition": edition(view.house.jurisdiction),
        "since": with_offset(view.since, view.house),
        "until": with_offset(view.until, view.house),
        "proofs": [_proof(view, proof) for proof in view.proofs],
        "entries": [
            {
                "seq": entry.seq,
                "at": with_offset(entry.at, view.house),
                "noted_at": with_offset(entry.noted_at, view.house),
                "time_doubtful": doubt_document(view.facts.doubts.get(entry.seq)),
                "who": entry.who,
                "kind": entry.kind,
                "subject": entry.subject,
                "data": dict(entry.data),
                "undoes": entry.undoes,
                "undone": entry.undone,
            }
            for entry in view.entries
        ],
        "sha256": view.sha256,
        "whole_record": {"seq": view.head.seq, "sha256": view.head.sha256},
        "signed": [
            {
                "who": one.who,
                "at": with_offset(one.at, view.house),
                "sha256": one.sha256,
                "unchanged": one.unchanged,
                "pin": one.pin,
            }
            for one in view.signed
        ],
        "run": {"printed_at": with_offset(view.printed_at, view.house)},
    }


def _proof(view: Inspection, proof: Proof) -> dict[str, Any]:
    return {
        "section": str(proof.section),
        "about": proof.key,
        "what": proof.what,
        "at": with_offset(proof.at, view.house),
        "ended": proof.ended,
        "failed": proof.failed,
        **_verdict(proof.verdict),
        "readings": [
            {
                "entry": reading.seq,
                "at": with_offset(reading.written_at, view.house),
                "temperature_c": reading.temperature_c,
                "as_read_c": reading.as_read_c,
                "who": reading.who,
            }
            for reading in proof.readings
        ],
        "done": [str(entry.data["text"]) for entry in proof.actions],
    }


def _verdict(verdict: Verdict | None) -> dict[str, Any]:
    if verdict is None:
        return {"verdict": None}
    return {
        "verdict": str(verdict.answer),
        "rule": verdict.rule,
        "source": verdict.source,
        "why": verdict.why,
        "settle": verdict.settle,
        "lethality_log10": verdict.lethality_log10,
    }
