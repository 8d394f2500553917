"""`board cook` for a house with past cooks says what it learned and from how many."""

import json

import pytest

from board import cli
from board.house.seeds import seed_house

QUICK = ("--members", "16")
TALLOW_ROW = ("--house", str(seed_house("tallow_row")))


def document(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, object]:
    """The JSON document of a cook."""
    assert cli.run(["cook", *arguments, *QUICK, "--json"]) == 0
    found: dict[str, object] = json.loads(capsys.readouterr().out)
    return found


def test_the_document_says_what_was_learned(capsys: pytest.CaptureFixture[str]) -> None:
    """Counts, spans of heat and dial, and the cooks left out with their reasons."""
    learned = document(capsys, "brisket", "--pit", "north", *TALLOW_ROW)["learned"]
    assert isinstance(learned, dict)
    assert learned["cooks"] > learned["cooks_of_pit"] > learned["cooks_of_both"] > 0
    assert learned["h_ratio"]["p10"] < learned["h_ratio"]["p50"] < learned["h_ratio"]["p90"]
    assert {"p10", "p50", "p90"} == set(learned["offset_c"])
    assert learned["unevenness_cooks"] > 0
    (out,) = learned["left_out"]
    assert out["cut"] == "pork-shoulder"
    assert "was to be expected" in out["why"]


def test_without_a_house_nothing_is_learned(capsys: pytest.CaptureFixture[str]) -> None:
    """No house, no lesson; a house without cooks says that there are none."""
    assert document(capsys, "brisket")["learned"] is None
    hatch = str(seed_house("hatch"))
    learned = document(capsys, "brisket", "--house", hatch)["learned"]
    assert isinstance(learned, dict)
    assert learned["cooks"] == 0


def test_a_house_with_cooks_has_a_narrower_span(capsys: pytest.CaptureFixture[str]) -> None:
    """The same brisket on the same pit, with and without the house's history."""

    def width(found: dict[str, object]) -> float:
        minutes = found["minutes"]
        assert isinstance(minutes, dict)
        return float(minutes["p90"] / minutes["p10"])

    told = width(document(capsys, "brisket", "--pit", "north", "--count", "6", *TALLOW_ROW))
    assert told < 0.85 * width(document(capsys, "brisket", "--pit", "offset", "--count", "6"))


def test_the_sentences_say_it_too(capsys: pytest.CaptureFixture[str]) -> None:
    """From how many cooks, how the pit runs, and what was left out, in the house's degrees."""
    assert cli.run(["cook", "brisket", "--pit", "north", *TALLOW_ROW, *QUICK]) == 0
    told = capsys.readouterr().out
    for words in (
        "Learned from",
        "cooks on North",
        "of brisket",
        "its dial",
        "°F apart",
        "Left out: pork shoulder",
    ):
        assert words in told
