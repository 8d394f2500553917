"""`board safe`: the answer in JSON and in sentences, its exit codes, and what it refuses."""

import json
import re

import pytest

from board import cli

CONTRACT = ("food", "rule", "verdict", "why", "held", "lethality_log10", "source", "cautions")
COOKED = "time,core_c\n0,4\n90,55\n120,60\n132,60\n150,50\n"
COOLED = "time,core_f\n0,135\n120,70\n360,41\n"


@pytest.fixture
def safe(tmp_path, capsys):
    """Writes a record and runs the command on it; the exit code, what it printed, and its complaint."""

    def run(text: str, *options: str) -> tuple[int, str, str]:
        path = tmp_path / "log.csv"
        path.write_text(text, encoding="utf-8")
        code = cli.run(["safe", *options, str(path)])
        out, err = capsys.readouterr()
        return code, out, err

    return run


def test_the_document_of_a_cook(safe):
    """The contract's keys, a row for each of the rule's, and exit 0 for a pass."""
    code, out, err = safe(COOKED, "--food", "intact-roast", "--json")
    found = json.loads(out)
    assert (code, err, tuple(found)[:8]) == (0, "", CONTRACT)
    assert (found["food"], found["verdict"], found["settle"]) == ("intact-roast", "pass", "")
    assert {"at_or_above_c": 60.0, "seconds": 720.0, "needed_seconds": 720.0} in found["held"]
    assert len(found["held"]) == 17
    # 12 min at 60 °C are 6.98 decades, up from 55 °C in 30 min 7.35, down to 50 °C in 18 min 2.49
    assert found["lethality_log10"] == pytest.approx(6.98 + 7.35 + 2.49 + 0.3, abs=0.1)
    assert "3-401.11(B)" in found["source"]
    assert all(isinstance(caution, str) for caution in found["cautions"])


def test_the_same_record_as_injected_meat_fails(safe):
    """Exit 1, and why."""
    code, out, _ = safe(COOKED, "--food", "injected", "--json")
    found = json.loads(out)
    assert (code, found["verdict"]) == (1, "fail")
    assert "never reached 63 °C" in found["why"]


def test_not_shown_ends_with_1_too(safe):
    """A script that serves on 0 must not serve what is not shown; what would settle it is said."""
    code, out, _ = safe("time,core_c\n0,4\n90,60\n", "--food", "intact-roast", "--json")
    found = json.loads(out)
    assert (code, found["verdict"]) == (1, "not shown")
    assert "70 °C (158 °F)" in found["settle"]


@pytest.mark.parametrize(
    ("text", "options", "code", "verdict"),
    [
        (COOLED, ["--cooling"], 0, "pass"),
        (COOLED.replace("120,70", "130,70"), ["--cooling"], 1, "fail"),
        ("time,core_c\n0,20\n240,5\n", ["--cooling", "--from-room"], 0, "pass"),
        ("time,hold_f\n0,140\n120,135\n", ["--holding", "hot"], 0, "pass"),
        ("time,hold_f\n0,140\n120,134\n", ["--holding", "hot"], 1, "fail"),
        ("time,hold_f\n0,140\n120,131\n", ["--holding", "hot", "--charted-roast"], 0, "pass"),
        ("time,air_c\n0,3\n120,5\n", ["--holding", "cold"], 0, "pass"),
        ("time,air_c\n0,3\n120,8\n", ["--holding", "cold", "--limits", "uk"], 0, "pass"),
        ("time,core_c\n0,5\n60,74\n61,74\n", ["--reheating"], 0, "pass"),
        ("time,core_c\n0,5\n60,57\n", ["--reheating", "--commercial"], 0, "pass"),
        ("time,core_c\n0,-10\n60,4\n", ["--thawing"], 0, "pass"),
        ("time,core_c\n0,-10\n60,6\n", ["--thawing", "--ready-to-eat"], 1, "fail"),
        ("time,core_c\n0,4\n60,15\n200,20\n", ["--tempering"], 0, "pass"),
        (COOKED, ["--food", "intact-roast", "--oven", "225 F", "--mass", "12 lb"], 1, "fail"),
        (COOKED, ["--food", "intact-roast", "--oven", "250 F", "--mass", "12 lb"], 0, "pass"),
        (COOKED, ["--food", "intact-roast", "--oven", "225 F", "--mass", "12 lb", "--humid"], 0, "pass"),
    ],
)
def test_each_question(safe, text, options, code, verdict):
    """Cooling, holding, reheating, thawing and tempering, each with what goes with it."""
    found_code, out, _ = safe(text, *options, "--json")
    assert (found_code, json.loads(out)["verdict"]) == (code, verdict)


def test_a_houses_jurisdiction_counts(safe, tmp_path, capsys):
    """8 °C is cold enough in the United Kingdom; said by the house, and overruled by --limits."""
    assert cli.run(["house", "new", str(tmp_path / "house")]) == 0
    settings = tmp_path / "house" / "house.toml"
    ours = settings.read_text(encoding="utf-8").replace('jurisdiction = "us"', 'jurisdiction = "uk"')
    settings.write_text(ours, encoding="utf-8")
    capsys.readouterr()
    cold, by_house = "time,air_c\n0,3\n120,8\n", ("--holding", "cold", "--house", str(tmp_path / "house"))
    assert safe(cold, *by_house)[0] == 0
    assert safe(cold, *by_house, "--limits", "us")[0] == 1


def test_the_checkpoints_of_cooling_in_the_document(safe):
    """Minutes to each beside what is allowed."""
    came = json.loads(safe(COOLED, "--cooling", "--json")[1])["came_to"]
    assert [(c["minutes"], c["within_minutes"]) for c in came] == [(120, 120), (360, 360)]


def test_the_answer_in_sentences(safe):
    """The verdict, why, the rule, lethality beside it, what to mind, the source and the edition."""
    _, out, _ = safe(COOKED, "--food", "cured-ham")
    lines = out.splitlines()
    assert lines[0] == "Pass: cured ham, by 5 readings over 2 h 30 min in log.csv."
    assert lines[1] == "It stayed at or above 60 °C (140 °F) for 12 min; 12 min is asked."
    assert "beside the rule, never instead of it" in out
    assert "FDA Food Code 3-401.11(B)" in out
    assert "It advises; it does not certify." in out
    _, out, _ = safe("time,core_c\n0,4\n5,\n90,60\n", "--food", "ground")
    assert "3 readings" not in out
    assert "2 readings and 1 gap" in out
    assert "It would be settled by " in out


@pytest.mark.parametrize(
    ("options", "told"),
    [
        ([], "ask one thing of the record"),
        (["--cooling", "--food", "ground"], "ask one thing of the record"),
        (["--cooling", "--oven", "225 F"], "--oven goes with --food only"),
        (["--food", "ground", "--charted-roast"], "--charted-roast goes with --holding only"),
        (["--holding", "cold", "--charted-roast"], "--charted-roast goes with --holding hot only"),
        (["--food", "intact-roast", "--oven", "225 F"], "--oven and --mass go together"),
        (["--food", "intact-roast", "--humid"], "--convection and --humid go with --oven and --mass"),
        (["--food", "intact-roast", "--oven", "225", "--mass", "12 lb"], "225"),
        (["--food", "steak"], "steak"),
        (["--holding", "warm"], "warm"),
        (["--cooling", "--limits", "mars"], "mars"),
    ],
)
def test_what_is_refused(safe, options, told):
    """One line on standard error, nothing on standard output, exit 2."""
    code, out, err = safe(COOKED, *options)
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert told in err


def test_a_bad_line_is_told(safe):
    """File and line; exit 2."""
    code, out, err = safe("time,core_c\n0,hot\n", "--food", "ground", "--json")
    assert (code, out) == (2, "")
    assert err.startswith("board: log.csv, line 2, core_c: found 'hot'")


def test_a_houses_clock_counts(safe, tmp_path, capsys):
    """On the night the clock goes back, 00:30 to 02:20 are 2 h 50 in Chicago: too long to come to 21 °C."""
    assert cli.run(["house", "new", str(tmp_path / "house")]) == 0
    settings = tmp_path / "house" / "house.toml"
    text = re.sub(r"(?m)^zone = .*$", 'zone = "America/Chicago"', settings.read_text(encoding="utf-8"))
    settings.write_text(text, encoding="utf-8")
    capsys.readouterr()
    cooled = "time,core_c\n2026-11-01T00:30,57\n2026-11-01T02:20,21\n2026-11-01T04:00,5\n"
    by_house = ("--cooling", "--limits", "us", "--house", str(tmp_path / "house"))
    assert safe(cooled, *by_house)[0] == 1
    assert safe(cooled.replace("11-01", "11-02"), *by_house)[0] == 0
