"""What the record of a span proves, as plain text."""

from board.house.wording import count
from board.sheets.page import WIDTH, block, heading, page, sentences
from board.views.clock_words import doubts_told
from board.views.inspection import ADVISES, Inspection, moment_said
from board.views.shown_cooked import TONES
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone, inert


def record_text(view: Inspection) -> str:
    """A line for each proof, with what was done about it, under whose rules and what span."""
    rows = []
    for number, proof in enumerate(view.proofs):
        verdict = proof.verdict
        answer = str(verdict.answer) if verdict is not None else ""
        tone = TONES[verdict.answer] if verdict is not None else Tone.PLAIN
        says = f"{proof.what}: {verdict.why}" if verdict is not None else proof.what
        below = [Cell(f"done about it: {inert(str(e.data['text']))}") for e in proof.actions]
        cells = (Cell(moment_said(view.house, proof.at), Tone.QUIET), Cell(answer, tone), Cell(inert(says)))
        rows.append(Row(str(number), cells, tuple(below)))
    table = Table(
        "What is proved",
        (Column(), Column(), Column(grow=True)),
        tuple(rows),
        "",
        "Nothing came off a pit, was held, cooled or marked in this span.",
    )
    head = heading(f"{inert(view.house.name)}  Record", view.span, WIDTH)
    doubts = doubts_told(view.facts.doubts)
    of_span = f"{count(len(view.entries), 'entry')}, sha256 {view.sha256}"
    foot = sentences([*doubts, view.rules, ADVISES, of_span, f"whole record {view.whole}"], WIDTH)
    return page(head, block(table, WIDTH), foot)
