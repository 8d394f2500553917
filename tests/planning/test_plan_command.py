"""`board plan`: the document other programs rely on, and its manners."""

import json
import sys

import pytest

from board.cli import run
from board.planning.plan_json import from_json, to_json
from tests.planning.by_hand import written

LOAD_KEYS = {
    *("id", "cut", "item", "pieces", "mass_kg", "pit", "setpoint_c", "light_at", "load_at", "wrap_at"),
    *("pull_at", "ready_at", "needed_at", "services", "portions", "area_m2", "rest_minutes"),
    *("hold_minutes_p50", "spare_minutes_p50", "chance"),
}


@pytest.fixture
def folder(tmp_path):
    """The hand-written house's folder."""
    written(tmp_path)
    return tmp_path


def test_json_is_one_document_with_the_promised_keys(folder, capsys):
    """The document has every promised key, times with an offset, and its run apart."""
    code = run(["plan", str(folder), "--day", "2026-06-10", "--seconds", "0", "--json"])
    out, err = capsys.readouterr()
    document = json.loads(out)
    assert (code, err) == (0, "")
    assert {
        "house",
        "day",
        "zone",
        "result",
        "cost",
        "bound",
        "loads",
        "steps",
        "batches",
        "short",
        "run",
    } <= set(document)
    assert all(set(load) >= LOAD_KEYS for load in document["loads"])
    assert document["loads"][0]["load_at"].endswith("-05:00")
    assert {"id", "at", "ends_at", "what", "who", "load", "batch", "minutes"} <= set(document["steps"][0])
    assert {"id", "recipe", "kind", "amount_kg", "make_by", "ready_from", "use_by", "loads"} <= set(
        document["batches"][0]
    )


def test_same_inputs_give_the_same_bytes_outside_run(folder, capsys):
    """Two runs differ at most under `run`."""
    documents = []
    for _ in range(2):
        run(["plan", str(folder), "--day", "2026-06-10", "--seconds", "1", "--seed", "5", "--json"])
        document = json.loads(capsys.readouterr().out)
        del document["run"]
        documents.append(json.dumps(document))
    assert documents[0] == documents[1]


def test_on_a_terminal_the_wait_has_a_word(folder, capsys, monkeypatch):
    """Who waits for the search reads what is under way; the page itself stays free of it."""
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    run(["plan", str(folder), "--day", "2026-12-19", "--seconds", "0"])
    told = capsys.readouterr()
    assert told.err.startswith("planning Saturday 19 December, a few seconds")
    assert "planning" not in told.out


def test_a_plan_survives_being_written_and_read(plain_plan):
    """A plan read back from its document says the same document again."""
    document = to_json(plain_plan)
    assert to_json(from_json(json.loads(json.dumps(document)))) == document


def test_a_short_day_ends_with_one(folder, capsys):
    """A script notices a shortage by the exit code."""
    code = run(["plan", str(folder), "--day", "2026-06-10", "--seconds", "0", "--now", "07:00"])
    assert code == 1
    assert "Short: lunch lacks 60 portions of sliced" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--day", "2026-13-40"], "--day: found '2026-13-40', allowed a date"),
        (["--now", "noonish", "--day", "2026-06-10"], "--now: found 'noonish', allowed a time"),
        (["--chance", "3"], "--chance"),
        (["--seed", "x"], "--seed"),
    ],
)
def test_bad_input_is_one_line_and_two(folder, capsys, arguments, words):
    """Whatever cannot be read is told in one line with what is allowed; nothing is printed as data."""
    code = run(["plan", str(folder), *arguments])
    out, err = capsys.readouterr()
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert words in err


def test_a_folder_without_a_house_is_one_line(tmp_path, capsys):
    """An empty folder is told as such."""
    assert run(["plan", str(tmp_path / "nowhere"), "--day", "2026-06-10"]) == 2
    assert capsys.readouterr().err.count("\n") == 1


def test_the_account_of_each_load_counts_back_from_its_service(plain_plan):
    """Each load's account begins at its service, says how long and how surely, and why not later."""
    for load in plain_plan.loads:
        lines = plain_plan.why[load.id]
        assert lines[0].startswith(("lunch at 11:00 less", "supper at 18:00 less"))
        assert "times in 100 it cooks within" in lines[1]
        assert lines[2].startswith("Loading at")
        assert "raw, usually" in lines[3]


def test_a_plan_of_another_day_is_planned_around(folder, tmp_path, capsys):
    """`--around` takes the document another run wrote, and refuses one of the same day in a line."""
    run(["plan", str(folder), "--day", "2026-06-10", "--seconds", "0", "--json"])
    first = tmp_path / "first.json"
    first.write_text(capsys.readouterr().out, encoding="utf-8")
    asked = ["plan", str(folder), "--seconds", "0", "--json", "--around", str(first)]
    assert run([*asked, "--day", "2026-06-11"]) == 0
    assert json.loads(capsys.readouterr().out)["day"] == "2026-06-11"
    assert run([*asked, "--day", "2026-06-10"]) == 2
    assert "allowed are plans of other days" in capsys.readouterr().err


def test_a_file_that_holds_no_plan_is_one_line(folder, tmp_path, capsys):
    """Whatever else the file holds, it is told in a line."""
    wrong = tmp_path / "wrong.json"
    wrong.write_text('{"house": 3}', encoding="utf-8")
    assert run(["plan", str(folder), "--day", "2026-06-11", "--around", str(wrong)]) == 2
    assert capsys.readouterr().err.count("\n") == 1
