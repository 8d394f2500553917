"""The messages of probes that could not be taken, as lines to read."""

from collections.abc import Sequence

from board.ledger.feeding import Aside
from board.views.days import when
from board.views.facts import Facts
from board.views.table import Row
from board.views.text import Cell, Tone, inert


def aside_rows(facts: Facts, found: Sequence[Aside]) -> tuple[Row, ...]:
    """When each came, by which feed, why not, and below that what it said."""
    return tuple(
        Row(
            str(n),
            (
                Cell(when(facts, one.at), Tone.QUIET),
                Cell(inert(one.source), Tone.QUIET),
                Cell(inert(one.why), Tone.STRONG),
            ),
            (Cell(" ".join(inert(one.message).split()), Tone.QUIET),),
        )
        for n, one in enumerate(found)
    )
