"""`board mark` and `board reading` as a person types them."""

import json
import re
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from board.cli import run
from board.house.starter import write_starter
from board.ledger import read
from board.ledger.open import create_ledger, open_ledger
from board.ledger.write import commit_plan

from .by_hand import ZONE, brisket, plan
from .doctor.tampering import tampering


@pytest.fixture
def tonight(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A ledger in the current folder, with a brisket that should have gone on an hour ago."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("BOARD_WHO", raising=False)
    monkeypatch.delenv("BOARD_LEDGER", raising=False)
    now = datetime.now(UTC)
    with create_ledger(tmp_path / "board.db", "Cinder & Rye", ZONE, tmp_path / "house") as ledger:
        today = now.astimezone(ledger.zone).date()
        tonights = plan(brisket(load_at=now - timedelta(hours=1)), day=today)
        commit_plan(ledger, tonights, who="Ada", at=now, noted_at=now)
    return tmp_path / "board.db"


def say(capsys: pytest.CaptureFixture[str], *typed: str) -> tuple[int, str, str]:
    """Run a command line; its exit code, output and talk."""
    code = run(typed)
    told = capsys.readouterr()
    return int(code), told.out, told.err


def test_mark_a_load(tonight: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A mark is told in a sentence with its time, person and number."""
    code, out, _ = say(capsys, "mark", "on", "1209-brisket-1", "--who", "Ines")
    assert code == 0
    assert out.startswith("on 1209-brisket-1 at ")
    assert out.endswith("by Ines (entry 2)\n")
    _, again, _ = say(capsys, "mark", "load", "1209-brisket-1.load", "--who", "Max")
    assert again == f"already recorded: {out}"


def test_mark_as_json(tonight: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """`--json` prints the entry as one document and nothing else."""
    at = (datetime.now(UTC) - timedelta(minutes=30)).replace(second=0, microsecond=0)
    code, out, err = say(
        capsys,
        "mark",
        "on",
        "1209-brisket-1",
        "--who",
        "Ines",
        "--at",
        at.isoformat(),
        "--json",
        "--pit",
        "south",
    )
    document = json.loads(out)
    assert code == 0
    assert "the place is not checked" in err
    assert datetime.fromisoformat(document["at"]) == at
    assert (document["kind"], document["subject"], document["who"]) == ("load", "1209-brisket-1", "Ines")
    assert document["data"]["stage"] == "on"
    assert document["data"]["pit"] == "south"


def test_mark_steps_batches_and_pits(tonight: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The same command marks a step by its kind or its name, a batch by its name or its lot, and a pit."""
    for typed in (
        ("rub", "1209-brisket-1"),
        ("done", "1209-brisket-1.slice"),
        ("made", "1209-glaze-1", "--lot", "L7"),
        ("used", "L7"),
        ("lit", "north", "--setpoint", "225 F"),
        ("out", "north"),
    ):
        code, _, err = say(capsys, "mark", *typed, "--who", "Ines")
        assert code == 0, err
    with open_ledger(tonight) as ledger:
        kinds = [(e.kind, e.subject) for e in read.entries(ledger, since_seq=1)]
    assert kinds == [
        ("step", "1209-brisket-1.rub"),
        ("step", "1209-brisket-1.slice"),
        ("batch", "1209-glaze-1"),
        ("batch", "1209-glaze-1"),
        ("light", "north"),
        ("out", "north"),
    ]


def test_who_from_the_environment(
    tonight: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The name may come from BOARD_WHO; the flag goes before it."""
    monkeypatch.setenv("BOARD_WHO", "Max")
    assert "by Max" in say(capsys, "mark", "on", "1209-brisket-1")[1]
    assert say(capsys, "mark", "rub", "1209-brisket-1", "--who", "Ines")[1].startswith(
        "rub 1209-brisket-1 at "
    )


def test_readings(tonight: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A load's core and a place's air are read in any unit, below zero too."""
    assert say(capsys, "reading", "1209-brisket-1", "162 F", "--who", "Ines")[0] == 0
    assert say(capsys, "reading", "walk-in", "-1 C", "--who", "Ines")[0] == 0
    with open_ledger(tonight) as ledger:
        core, air = read.readings(ledger)
    assert (core.load, round(core.temperature_c, 1)) == ("1209-brisket-1", 72.2)
    assert (air.place, air.temperature_c) == ("walk-in", -1.0)


def test_places_are_the_houses(tonight: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A pit is found by its name or id, and a place the house does not have is refused."""
    assert run(["house", "new", str(tonight.parent / "house")]) == 0
    capsys.readouterr()
    code, _, err = say(capsys, "reading", "nowhere", "225 F", "--who", "Ines")
    assert code == 2
    pit = err.rpartition("one of ")[2].split(",")[0].strip()
    assert say(capsys, "reading", pit.upper(), "225 F", "--who", "Ines")[0] == 0
    with open_ledger(tonight) as ledger:
        assert read.last_reading(ledger, place=pit) is not None


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        (("mark", "on", "1209-brisket-1"), "--who NAME, or set BOARD_WHO"),
        (("mark", "on", "1209-brisket-9", "--who", "Ines"), "there are 1209-brisket-1"),
        (("mark", "salted", "1209-brisket-1", "--who", "Ines"), "mark it one of prepped, on"),
        (("mark", "holding", "1209-brisket-1", "--who", "Ines"), "mark it pulled first"),
        (("mark", "wrap", "1209-brisket-1.load", "--who", "Ines"), "mark it done or load"),
        (("mark", "eaten", "1209-glaze-1", "--who", "Ines"), "mark it one of made"),
        (("mark", "lit", "north", "--who", "Ines"), "--setpoint '225 F'"),
        (("mark", "on", "1209-brisket-1", "--who", "Ines", "--at", "soon"), "such as 04:30"),
        (("mark", "on", "1209-brisket-1", "--who", "Ines", "--ledger", "none.db"), "no ledger none.db"),
        (("mark", "lit", "north", "--setpoint", "20 F", "--who", "Ines"), "no pit is asked for -7 °C"),
        (
            ("mark", "moved", "1209-brisket-1", "--pit", "south", "--setpoint", "300 F", "--who", "Ines"),
            "--setpoint does not go with moved, which takes --pit and --zone; leave it out",
        ),
        (("mark", "out", "north", "--setpoint", "225 F", "--who", "Ines"), "--setpoint does not go with out"),
        (
            ("mark", "rub", "1209-brisket-1", "--portions", "3", "--who", "Ines"),
            "--portions does not go with",
        ),
        (("reading", "north", "225", "--who", "Ines"), "225"),
        (("reading", "north", "999 F", "--who", "Ines"), "no kitchen temperature"),
    ],
)
def test_what_is_refused(
    tonight: Path, capsys: pytest.CaptureFixture[str], typed: tuple[str, ...], sentence: str
) -> None:
    """Bad input is answered with one line that says what to do, exit code 2, and nothing written."""
    code, out, err = say(capsys, *typed)
    assert (code, out) == (2, "")
    assert sentence in err
    with open_ledger(tonight) as ledger:
        assert len(read.entries(ledger)) == 1


def test_mark_a_pit_that_is_not_there(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A pit the house does not have is refused with those it has; one told by its name is known by it."""
    assert say(capsys, "house", "new", str(tmp_path / "house"))[0] == 0
    path = tmp_path / "board.db"
    create_ledger(path, "Cinder & Rye", ZONE, tmp_path / "house").close()
    lit = ("--setpoint", "225 F", "--who", "Ines", "--ledger", str(path))
    assert say(capsys, "mark", "lit", "nowhere", *lit) == (
        2,
        "",
        "board: there is no pit nowhere; the pits are big, box\n",
    )
    code, out, _ = say(capsys, "mark", "lit", "Big Pit", *lit)
    assert (code, out[:8]) == (0, "lit big ")


def test_times_are_of_the_zone_that_the_house_has_now(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A zone put right in house.toml counts for what is typed and told from then on."""
    house = tmp_path / "house"
    write_starter(house)
    monkeypatch.chdir(house)
    create_ledger(house / "board.db", "Our house", "America/Chicago", house).close()
    assert say(capsys, "reading", "walk-in", "3 C", "--who", "Ines", "--at", "2026-01-09T06:00")[0] == 0
    settings = house / "house.toml"
    settings.write_text(settings.read_text().replace("America/Chicago", "America/Los_Angeles"))
    typed = ("reading", "walk-in", "3 C", "--who", "Ines", "--json", "--at", "2026-01-09T06:30")
    assert json.loads(say(capsys, *typed)[1])["at"] == "2026-01-09T06:30:00-08:00"
    assert "9 Jan 04:00" in say(capsys, "record", "--from", "2026-01-09")[1]  # 06:00 where it was before


def _starter(folder: Path, monkeypatch: pytest.MonkeyPatch, *changes: tuple[str, str]) -> Path:
    """A starter house with its ledger, the current folder; changed so in house.toml."""
    write_starter(folder)
    settings = folder / "house.toml"
    for was, now in changes:
        assert was in settings.read_text()
        settings.write_text(settings.read_text().replace(was, now))
    monkeypatch.chdir(folder)
    create_ledger(folder / "board.db", "Our house", "America/Chicago", folder).close()
    return folder


def test_who_did_it_is_written_as_the_board_writes_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A person of the crew is one person by name and by id, told by name; others are as typed."""
    house = _starter(tmp_path / "house", monkeypatch)
    (house / "crew.toml").write_text('[people.ann]\nname = "Ann Lee"\n')
    for typed, who, said in (("ANN lee", "ann", "Ann Lee"), ("ann", "ann", "Ann Lee"), ("Zoe", "Zoe", "Zoe")):
        assert f"by {said} (entry" in say(capsys, "reading", "walk-in", "3 C", "--who", typed)[1]
        with open_ledger(house / "board.db") as ledger:
            assert read.entries(ledger)[-1].who == who


def test_who_restores_and_who_mends_is_written_as_the_board_writes_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """By the id in crew.toml, also where the name was typed."""
    house = _starter(tmp_path / "house", monkeypatch)
    (house / "crew.toml").write_text('[people.ann]\nname = "Ann Lee"\n')
    say(capsys, "reading", "walk-in", "3 C", "--who", "ann")
    say(capsys, "backup")
    assert say(capsys, "restore", "--yes", "--who", "Ann Lee")[0] == 0
    with tampering(house / "board.db") as db:
        db.execute("UPDATE readings SET temperature_c = 4")
    assert say(capsys, "doctor", "--mend", "--who", "Ann Lee")[0] == 0
    with open_ledger(house / "board.db") as ledger:
        assert [(entry.kind, entry.who) for entry in read.entries(ledger)][-2:] == [
            ("restored", "ann"),
            ("mended", "ann"),
        ]


def test_who_is_usually_at_the_machine_did_what_a_command_records(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """By its settings, where neither the flag nor the environment names another; else it is asked."""
    _starter(tmp_path / "house", monkeypatch)
    monkeypatch.delenv("BOARD_WHO", raising=False)
    monkeypatch.setenv("BOARD_SETTINGS", str(tmp_path / "settings.toml"))
    reading = ("reading", "walk-in", "3 C")
    assert "say who did it: --who NAME" in say(capsys, *reading)[2]
    (tmp_path / "settings.toml").write_text('who = "Ann"\n')
    assert "by Ann (entry" in say(capsys, *reading)[1]
    monkeypatch.setenv("BOARD_WHO", "Ines")
    assert "by Ines (entry" in say(capsys, *reading, "--at", "2026-06-09T07:05")[1]
    assert "by Zoe (entry" in say(capsys, *reading, "--at", "2026-06-09T08:05", "--who", "Zoe")[1]


def test_times_are_told_by_the_clock_of_the_house(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A house with a clock of 12 hours is told 7:05 pm, and takes it typed so."""
    _starter(tmp_path / "house", monkeypatch, ("clock_hours = 24", "clock_hours = 12"))
    said = say(capsys, "reading", "walk-in", "3 C", "--who", "Ines", "--at", "7:05 pm")[1]
    assert " at 7:05 pm by Ines " in said
    say(capsys, "backup")
    listed = say(capsys, "backup", "--list")[1]
    refused = say(capsys, "reading", "walk-in", "3 C", "--who", "Ines", "--at", "2031-06-09 7:05 pm")[2]
    assert "7:05 pm on Mon 9 Jun 2031 is still to come" in refused
    assert re.search(r" shows \d+:\d\d [ap]m on ", say(capsys, "clock")[1])
    assert re.match(r"  1  \d+:\d\d [ap]m on ", listed)


def test_the_doctor_tells_entries_by_the_clock_and_the_names_of_the_house(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A changed entry has its time on a clock of 12 hours and its writer by name; one is told as one."""
    house = _starter(tmp_path / "house", monkeypatch, ("clock_hours = 24", "clock_hours = 12"))
    (house / "crew.toml").write_text('[people.ann]\nname = "Ann Lee"\n')
    say(capsys, "reading", "walk-in", "3 C", "--who", "ann", "--at", "2026-06-09T19:05")
    with tampering(house / "board.db") as db:
        db.execute("UPDATE entries SET kind = 'readings'")
    said = say(capsys, "doctor")[1]
    assert (
        "entry 1 (readings walk-in, by Ann Lee at 7:05 pm on Tue 9 Jun 2026) is not as it was written" in said
    )
    assert "the record: 1 entry, each linked" in said
    moved = house.rename(tmp_path / "moved")
    monkeypatch.chdir(moved)
    assert "by Ann Lee at 7:05 pm" in say(capsys, "doctor")[1], "also once the folder has another name"
