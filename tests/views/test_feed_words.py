"""What is told of probes in the Record."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from board.house.probes import Probe, ProbeReads
from board.ledger.state import Entry
from board.views.happened import sentence
from board.views.taken_back import stands_now

from .facts_fixture import facts as quiet

AT = datetime(2026, 12, 19, 12, 0, tzinfo=UTC)
SPAN = {"since": "2026-12-19T12:00:00.000Z", "until": "2026-12-19T12:30:00.000Z"}


@pytest.mark.parametrize(
    ("kind", "data", "says", "taken_back"),
    [
        ("placed", {"load": "x\x1b", "day": "2026-12-19"}, "the long probe put into x", "as it did before"),
        ("placed", {}, "the long probe taken out", "as it did before"),
        (
            "struck",
            {**SPAN, "readings": 3, "why": "fell out"},
            "the long probe does not count from ",
            "again",
        ),
        ("struck", {**SPAN, "readings": 1}, "the long probe does not count from ", "again"),
        ("fed", {"source": "stdin", "readings": [["p1"], ["p1"]]}, "2 readings fed by 1 probe", ""),
    ],
)
def test_each_kind_in_a_sentence(kind: str, data: dict[str, object], says: str, taken_back: str) -> None:
    """By the name the house gives the probe; nothing in it that a terminal obeys."""
    facts = quiet()
    probe = Probe("p1", "the long probe", ProbeReads.MEAT, None, ("p1",))
    facts = replace(facts, house=replace(facts.house, probes={"p1": probe}))
    entry = Entry(1, AT, AT, "Ada", kind, "p1", data)
    assert sentence(facts, entry).startswith(says)
    assert ("fell out" in sentence(facts, entry)) == ("why" in data)
    assert stands_now(facts, entry).endswith(taken_back)
