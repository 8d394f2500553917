"""`board cook` as a script meets it: the promised document, repeatable, and one line for bad input."""

import json
from typing import Any

import pytest

from board import cli
from board.house.library import library_cuts

QUICK = ("--members", "16")


def document(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, Any]:
    """The JSON document of a call that succeeds."""
    assert cli.run(["cook", *arguments, *QUICK, "--json"]) == 0
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


def test_the_document_has_what_is_promised(capsys: pytest.CaptureFixture[str]) -> None:
    """Every promised key is there, in its unit, for a wrapped and rested brisket."""
    found = document(
        capsys, "brisket", "--weight", "14 lb", "--pit", "offset", "--at", "250 F", "--until", "203 F",
        "--wrap", "foil", "--wrap-at", "160 F", "--rest", "1 h", "--rest-in", "cooler", "--from", "40 F",
    )  # fmt: skip
    assert found["cut"] == "brisket"
    assert found["weight_kg"] == pytest.approx(6.35, abs=0.01)
    assert found["pit"] == "offset"
    assert found["setpoint_c"] == pytest.approx(121.1, abs=0.1)
    assert found["until_c"] == pytest.approx(95.0, abs=0.1)
    for key in ("minutes", "loss_percent", "peak_after_pull_c"):
        assert found[key]["p10"] < found[key]["p50"] < found[key]["p90"]
    assert set(found["stall"]) == {"from_minute", "to_minute", "core_c"}
    assert set(found["curve"][0]) == {"minute", "core_c", "surface_c", "loss_percent"}
    assert set(found["run"]) == {"seconds", "version"}


@pytest.mark.parametrize("cut", library_cuts())
def test_every_cut_has_its_usual_weight(capsys: pytest.CaptureFixture[str], cut: str) -> None:
    """Each library cut cooks with nothing but its name."""
    found = document(capsys, cut)
    assert found["weight_kg"] == library_cuts()[cut].mass_kg.usual
    assert 20.0 < found["minutes"]["p50"] < 24 * 60


def test_the_same_call_gives_the_same_bytes(capsys: pytest.CaptureFixture[str]) -> None:
    """All but the run is the same twice over."""
    first, second = (document(capsys, "pork-loin", "--seed", "5") for _ in range(2))
    first.pop("run"), second.pop("run")
    assert json.dumps(first) == json.dumps(second)


def test_readings_move_the_whole_cooks_time(capsys: pytest.CaptureFixture[str]) -> None:
    """A slow reading lengthens the cook, a fast one shortens it."""
    slow = document(capsys, "brisket", "--reading", "2h40=30 C", "--reading", "4h=42 C")
    fast = document(capsys, "brisket", "--reading", "2h40=52 C", "--reading", "4h=63 C")
    assert fast["minutes"]["p50"] < slow["minutes"]["p50"]


def test_a_wild_reading_is_left_out_with_a_line(capsys: pytest.CaptureFixture[str]) -> None:
    """°F typed as °C changes nothing but a line that says so, and the reading stays in the document."""
    arguments = ["brisket", "--reading", "2h40=45 C", "--reading", "5h=60 C"]
    good, wild = document(capsys, *arguments), document(capsys, *arguments, "--reading", "5h30=143 C")
    assert wild["minutes"] == good["minutes"]
    assert wild["readings"]["core"]["counted"] == 2
    assert wild["readings"]["core"]["left_out"] == [
        {"minute": 330.0, "celsius": 143.0, "why": "fahrenheit as celsius"}
    ]
    assert cli.run(["cook", *arguments, "--reading", "5h30=143 C", *QUICK]) == 0
    assert "143 °C is left out of the estimate: it reads like °F taken for °C" in capsys.readouterr().out


def test_of_two_cores_at_one_moment_the_colder_counts(capsys: pytest.CaptureFixture[str]) -> None:
    """A load is done when its slowest piece is, so the lower of two counts, and the other is told."""
    two = document(capsys, "brisket", "--reading", "2h=40 C", "--reading", "120 min=55 C")
    one = document(capsys, "brisket", "--reading", "2h=40 C")
    assert two["minutes"] == one["minutes"]
    assert two["readings"]["core"]["left_out"][0]["celsius"] == 55.0


def test_a_pit_read_colder_or_opened_takes_longer(capsys: pytest.CaptureFixture[str]) -> None:
    """The measured air is cooked with: cold or open is slower, a raised setpoint quicker."""
    plain = document(capsys, "pork-loin")["minutes"]["p50"]
    cold = [f"{m}min={98} C" for m in range(10, 60, 10)]
    for more, slower in (
        ([part for text in cold for part in ("--air", text)], True),
        (["--opened", "20min", "--opened", "40min"], True),
        (["--set", "20min=150 C"], False),
    ):
        found = document(capsys, "pork-loin", *more)["minutes"]["p50"]
        assert found > plain if slower else found < plain


def test_the_answer_reads_as_sentences(capsys: pytest.CaptureFixture[str]) -> None:
    """Without --json the answer is told in words, with the core drawn over the hours."""
    assert cli.run(["cook", "brisket", "--count", "8", "--wrap", "paper", *QUICK]) == 0
    told = capsys.readouterr().out
    for words in ("8 briskets of 6.5 kg each", "most likely", "slowest piece", "Wrap after", "├─", "pull "):
        assert words in told


@pytest.mark.parametrize(
    ("asked", "answered"),
    [
        (["--weight", "14 lb"], "14 lb each, offset pit at 244 °F"),
        (["--at", "250 F"], "pit at 250 °F"),
        (["--weight", "6.4 kg"], "6.4 kg each, offset pit at 118 °C"),
        ([], "6.5 kg each, offset pit at 118 °C"),
    ],
)
def test_who_asks_in_pounds_is_answered_in_pounds(
    asked: list[str], answered: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Without a house the answer comes in the units of the question, on lines of at most 80 columns."""
    assert cli.run(["cook", "brisket", "--wrap", "foil", "--count", "6", *asked, *QUICK]) == 0
    told = capsys.readouterr().out
    assert answered in told.replace("\n", " ")
    assert max(len(line) for line in told.splitlines()) <= 80


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["brisquet"], "no cut 'brisquet'"),
        (["brisket", "--pit", "smoker"], "allowed are offset, cabinet"),
        (["brisket", "--weight", "14"], "14 lb"),
        (["brisket", "--weight", "14 F"], "14 lb"),
        (["brisket", "--at", "90 C"], "cannot bring the core"),
        (["brisket", "--until", "110 C"], "boiling point"),
        (["brisket", "--from=-5 C"], "frozen"),
        (["brisket", "--wrap-at", "70 C"], "--wrap"),
        (["brisket", "--wrap", "foil", "--wrap-at", "98 C"], "after the pull"),
        (["brisket", "--wrap", "silk"], "paper"),
        (["brisket", "--reading", "soon"], "2h40=61 C"),
        (["brisket", "--reading", "2h=900 F"], "a core reads"),
        (["brisket", "--reading", "3000 days=61 C"], "at most 7 days"),
        (["brisket", "--reading", "0 min=61 C"], "starts at 4 °C; give the core it starts at with --from"),
        (["brisket", "--air", "soon"], "2h=108 C"),
        (["brisket", "--air", "2h=900 F"], "a pit reads"),
        (["brisket", "--set", "5h"], "5h=121 C"),
        (["brisket", "--set", "5h=20 C"], "a pit runs at"),
        (["brisket", "--set", "400 days=121 C"], "a change of setpoint is at most 7 days after loading"),
        (["brisket", "--opened", "400 days"], "an opening is at most 7 days after loading"),
        (["brisket", "--from", "warm", "--at", "245 F"], "--from: 'warm' is not a temperature"),
        (["brisket", "--air", "2h=hot"], "--air: 'hot' is not a temperature"),
        (["brisket", "--seed", "-1"], "0<=x<=2147483647"),
        (["brisket", "--seed", "12345678901234567890123"], "0<=x<=2147483647"),
        (["brisket", "--count", "0"], "1 to 2000 pieces"),
        (["brisket", "--members", "2"], "8 to 5000"),
        (["brisket", "--rest-in", "garden"], "room"),
        (["brisket", "--hold-at", "140 F"], "need --rest-in hold"),
        (["sausage", "--until", "tender"], "not cooked until tender"),
        (["brisket", "--house", "nowhere-at-all"], "nowhere-at-all"),
        ([], "CUT"),
    ],
)
def test_bad_input_is_one_line_and_exit_2(
    capsys: pytest.CaptureFixture[str], arguments: list[str], said: str
) -> None:
    """What was found and what is allowed, on standard error; nothing on standard output."""
    assert cli.run(["cook", *arguments]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.count("\n") == 1
    assert said in told.err


def test_a_hold_is_asked_for_at_its_air_and_humidity(capsys: pytest.CaptureFixture[str]) -> None:
    """A hold's air and humidity change what the core comes to."""
    held = ("chicken-half", "--rest", "2 h", "--rest-in", "hold")
    cool = document(capsys, *held, "--hold-at", "140 F", "--hold-humidity", "20%")
    hot = document(capsys, *held, "--hold-at", "195 F", "--hold-humidity", "90%")
    assert hot["peak_after_pull_c"]["p50"] > cool["peak_after_pull_c"]["p50"] + 3.0


def test_until_takes_a_core_tenderness_or_both(capsys: pytest.CaptureFixture[str]) -> None:
    """A core alone ends at it; tender ends later or cooler; both end at the later."""
    ribs = ("spare-ribs", "--at", "250 F")
    core, tender, both = (
        document(capsys, *ribs, *until)
        for until in (
            ("--until", "190 F"),
            ("--until", "tender"),
            ("--until", "190 F", "--until", "Tender"),
        )
    )
    assert core["tender_minutes"] is None
    assert core["minutes"]["p50"] + 30 < tender["minutes"]["p50"]
    assert both["minutes"] == tender["minutes"]
    assert tender["pulled_core_c"]["p50"] > tender["until_c"]


def test_the_thin_end_of_a_packer_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    """A brisket's document and words tell its thin end; a butt's do not."""
    found = document(capsys, "brisket")
    assert found["thin_end"]["core_at_pull_c"]["p50"] > found["pulled_core_c"]["p50"]
    assert found["curve"][0]["loss_percent"]["p50"] == 0.0
    assert document(capsys, "pork-shoulder")["thin_end"] is None


def test_readings_are_drawn_and_those_left_out_are_hollow(capsys: pytest.CaptureFixture[str]) -> None:
    """The drawing marks each reading that counts, and a wild one at the edge as left out."""
    asked = [
        "cook",
        "brisket",
        "--reading",
        "2h=30 C",
        "--reading",
        "4h=150 C",
        "--reading",
        "5h=60 C",
        *QUICK,
    ]
    assert cli.run(asked) == 0
    told = capsys.readouterr().out
    assert told.count("●") == 2
    assert told.count("○") == 1
