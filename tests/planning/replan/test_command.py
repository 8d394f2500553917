"""`board plan --keep`, `--pin` and `--move`: the differences, the pins, a trial; and what may be mistyped."""

import json

import pytest

from board.cli import run
from tests.planning.by_hand import written


@pytest.fixture
def folder(tmp_path):
    """The hand-written house's folder."""
    written(tmp_path)
    return tmp_path


@pytest.fixture
def kept(folder, capsys):
    """A plan of it, as a document on disk."""
    run(["plan", str(folder), "--day", "2026-06-10", "--seconds", "0", "--json"])
    path = folder / "kept.json"
    path.write_text(capsys.readouterr().out, encoding="utf-8")
    return path


def _brisket(kept):
    loads = json.loads(kept.read_text(encoding="utf-8"))["loads"]
    return next(load for load in loads if load["cut"] == "brisket")


def _asked(folder, kept, *more):
    return ["plan", str(folder), "--seconds", "0", "--keep", str(kept), *more]


def test_a_kept_plan_comes_back_as_it_is(folder, kept, capsys):
    """Kept and planned again, day and loads are the same, and no difference is listed."""
    assert run(_asked(folder, kept, "--json")) == 0
    document = json.loads(capsys.readouterr().out)
    before = json.loads(kept.read_text(encoding="utf-8"))
    assert document["differences"] == []
    assert document["loads"] == before["loads"]
    assert document["steps"] == before["steps"]
    run(_asked(folder, kept))
    assert "Nothing changes in the plan that is kept." in capsys.readouterr().out


def test_what_began_before_now_is_kept_at_any_hour(folder, kept, capsys):
    """In the middle of the night, what the kept plan had begun stands and nothing differs."""
    assert run(_asked(folder, kept, "--now", "03:00", "--json")) == 0
    assert json.loads(capsys.readouterr().out)["differences"] == []


def test_a_pin_moves_its_load_and_is_told(folder, kept, capsys):
    """A load pinned twenty minutes earlier is there in the plan, and the page says so."""
    load = _brisket(kept)
    hour, minute = map(int, load["load_at"][11:16].split(":"))
    at = f"{(hour * 60 + minute - 20) // 60:02d}:{(minute - 20) % 60:02d}"
    pin = f"{load['id']}={load['pit']}@{at}"
    assert run(_asked(folder, kept, "--pin", pin, "--json")) == 0
    document = json.loads(capsys.readouterr().out)
    assert next(ld for ld in document["loads"] if ld["id"] == load["id"])["load_at"][11:16] == at
    assert [one["load"] for one in document["differences"] if one["load"]] == [load["id"]]
    run(_asked(folder, kept, "--pin", pin))
    assert f"at {at}, not {load['load_at'][11:16]}" in capsys.readouterr().out


def test_some_pieces_of_a_load_are_pinned_and_the_rest_finds_a_place(folder, kept, capsys):
    """With --pieces only so many stay that load, at the pin; all are cooked; the document lists the pin."""
    load = _brisket(kept)
    before = json.loads(kept.read_text(encoding="utf-8"))["loads"]
    pin = f"{load['id']}={load['pit']}@{load['load_at'][11:16]}"
    run(_asked(folder, kept, "--pin", pin, "--pieces", "1", "--json"))
    document = json.loads(capsys.readouterr().out)
    (told,) = document["pins"]
    assert (told["load"], told["pieces"], told["at"]) == (load["id"], 1, load["load_at"])
    after = [ld for ld in document["loads"] if ld["cut"] == load["cut"]]
    held = next(ld for ld in after if ld["id"] == load["id"])
    assert (held["pieces"], held["load_at"]) == (1, load["load_at"])
    assert sum(ld["pieces"] for ld in after) == sum(ld["pieces"] for ld in before if ld["cut"] == load["cut"])
    assert run(_asked(folder, kept, "--pin", pin, "--pieces", str(load["pieces"] + 1))) == 2
    assert f"allowed is 1 to {load['pieces']}" in capsys.readouterr().err


def test_a_move_is_told_before_and_after_and_plans_nothing(folder, kept, capsys):
    """Moving a load where it is changes no figure; hours too late it breaks a rule, and ends with 1."""
    load = _brisket(kept)
    here = f"{load['id']}={load['pit']}@{load['load_at'][11:16]}"
    assert run(_asked(folder, kept, "--move", here, "--json")) == 0
    tried = json.loads(capsys.readouterr().out)
    assert tried["before"] == tried["after"]
    assert tried["broken"] == []
    assert run(_asked(folder, kept, "--move", f"{load['id']}={load['pit']}@07:00")) == 1
    page = capsys.readouterr().out
    assert "breaks: " in page
    assert page.count("the plan costs") == 1
    assert "late 0.00 → " in page


@pytest.mark.parametrize(
    ("more", "words"),
    [
        (["--pin", "nonsense"], "--pin: found 'nonsense', allowed is LOAD=PIT@TIME"),
        (["--pin", "0610-ham-1=long@22:00"], "--pin: no load '0610-ham-1' in the plan that is kept"),
        (["--pin", "{id}=attic@22:00"], "no pit 'attic' in this house; its pits are long and box"),
        (["--pin", "{id}=long@noonish"], "--pin: found 'noonish', allowed a time"),
        (["--pin", "{id}=long@22:00@hot"], "--pin: "),
        (["--pin", "{id}=long@22:02"], "full five minutes"),
        (["--pin", "{id}=long@2026-06-10T10:00"], "cannot be pinned there: "),
        (["--pin", "{id}=long/warm@22:00"], "long has no zone 'warm'"),
        (["--move", "{id}=attic@22:00"], "attic"),
        (["--pieces", "3"], "--pieces: needs --move LOAD=PIT@TIME, or --pin"),
        (["--pin", "{id}=long@22:00", "--pin", "{id}=box@22:00"], "is pinned twice"),
        (["--pin", "{id}=long@22:00", "--move", "{id}=long@22:00"], "--pin: not together with --move"),
        (["--day", "2026-06-11"], "is a plan of 2026-06-10; allowed is one of 2026-06-11"),
    ],
)
def test_what_is_mistyped_is_told_in_one_line(folder, kept, more, words, capsys):
    """Bad input ends with 2, one line that names what is allowed, and no plan."""
    id = _brisket(kept)["id"]
    assert run(_asked(folder, kept, *(part.replace("{id}", id) for part in more))) == 2
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)
    assert words in err


@pytest.mark.parametrize("option", ["--keep", "--around"])
def test_a_plan_of_another_house_is_refused(folder, kept, option, capsys):
    """What another house decided is never planned around, nor told as this house's change."""
    kept.write_text(kept.read_text(encoding="utf-8").replace("Two Fires", "One Fire"), encoding="utf-8")
    assert run(["plan", str(folder), "--day", "2026-06-10", "--seconds", "0", option, str(kept)]) == 2
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)
    assert "is a plan of One Fire; allowed is one of Two Fires" in err


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("{}", "'house' is missing"),
        ("[]", "not a plan document"),
        ("{", "holds no plan"),
        (None, "cannot be read"),
    ],
)
def test_what_is_no_plan_is_told_in_a_cooks_words(folder, text, words, capsys):
    """A file that is missing or holds something else is named in one line, without a programmer's words."""
    path = folder / "odd.json"
    if text is not None:
        path.write_text(text, encoding="utf-8")
    assert run(["plan", str(folder), "--day", "2026-06-10", "--keep", str(path)]) == 2
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)
    assert words in err
    assert "Error" not in err
    assert "Errno" not in err


def test_far_too_many_pieces_break_rules_and_are_told(folder, kept, capsys):
    """A load made so large that it would not be done within the days that are planned ends with 1, told."""
    here = f"{(load := _brisket(kept))['id']}={load['pit']}@{load['load_at'][11:16]}"
    assert run(_asked(folder, kept, "--move", here, "--pieces", "3000")) == 1
    assert "breaks: " in capsys.readouterr().out


def test_a_pin_without_a_kept_plan_is_told(folder, capsys):
    """A pin or a move needs the plan that has its load."""
    for option in ("--pin", "--move"):
        assert run(["plan", str(folder), "--day", "2026-06-10", option, "x=long@22:00"]) == 2
        assert "needs --keep PLAN.json" in capsys.readouterr().err
