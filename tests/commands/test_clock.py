"""A wrong clock at the command line: told in a line, settled, and what it wrote put right."""

import json
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from board.house.seeds import seed_house
from board.ledger import read
from board.ledger.open import Ledger, create_ledger, open_ledger
from board.ledger.uptime import Uptime
from board.ledger.write import commit_plan
from tests.ledger.by_hand import ZONE, brisket, plan

from .conftest import say

BRISKET = "1209-brisket-1"
HOUR = timedelta(hours=1)


class Machine:
    """A machine whose clock commands read; tests move its time and set its clock."""

    def __init__(self) -> None:
        self.true, self.error, self.boot = datetime.now(UTC), timedelta(0), "boot-1"

    def now(self, _: object = None) -> datetime:
        """What its clock shows, where a command asks datetime."""
        return self.true + self.error

    def uptime(self) -> Uptime:
        """Its count."""
        return Uptime(self.boot, int(self.true.timestamp()) * 1_000 - 1_700_000_000_000)


@pytest.fixture
def machine(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Machine]:
    """A machine with a ledger in its current folder, a brisket planned an hour ago, and somebody at it."""
    found = Machine()
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("BOARD_WHO", "Ines")
    monkeypatch.delenv("BOARD_LEDGER", raising=False)
    monkeypatch.setattr(Ledger, "uptime", staticmethod(found.uptime))
    for module in ("recording", "clock", "show"):
        shown = type("Shown", (datetime,), {"now": staticmethod(found.now)})
        monkeypatch.setattr(f"board.commands.{module}.datetime", shown)
    with create_ledger(tmp_path / "board.db", "Cinder & Rye", ZONE, seed_house("tallow_row")) as ledger:
        tonights = plan(brisket(load_at=found.true - HOUR), day=found.true.astimezone(ledger.zone).date())
        commit_plan(ledger, tonights, who="Ada", at=found.true, noted_at=found.true)
    return found


def test_a_clock_that_was_set_is_told_beside_what_is_recorded(
    machine: Machine, capsys: pytest.CaptureFixture[str]
) -> None:
    """The mark is recorded as its clock has it; one line on standard error says that it looks wrong."""
    machine.true += HOUR
    assert say(capsys, "mark", "on", BRISKET)[2] == ""
    machine.error = 2 * HOUR
    code, out, err = say(capsys, "mark", "wrapped", BRISKET, "--json")
    assert (code, json.loads(out)["kind"]) == (0, "load")
    assert err.startswith("board: this machine's clock looks wrong: it was set, and shows ")
    assert len(err.splitlines()) == 1


def test_a_mark_that_a_clock_set_back_refuses_says_so(
    machine: Machine, capsys: pytest.CaptureFixture[str]
) -> None:
    """The line that refuses it tells that the clock looks wrong, and nothing is written."""
    machine.true += HOUR
    say(capsys, "mark", "on", BRISKET)
    machine.error = -HOUR / 2
    code, out, err = say(capsys, "mark", "pulled", BRISKET)
    assert (code, out, len(err.splitlines())) == (2, "", 1)
    assert "cannot be pulled" in err
    assert "this machine's clock looks wrong" in err
    with open_ledger(Path("board.db")) as ledger:
        assert len(read.entries(ledger)) == 2


def test_a_clock_that_is_behind_the_last_entry_of_another_boot_is_told(
    machine: Machine, capsys: pytest.CaptureFixture[str]
) -> None:
    """A battery that ran empty: the clock shows a time before the last entry."""
    machine.boot, machine.error = "boot-2", timedelta(days=-9_000)
    _, _, err = say(capsys, "reading", "walk-in", "38 F")
    assert "before entry 1 at" in err


def test_the_clock_command_tells_settles_and_puts_right(
    machine: Machine, capsys: pytest.CaptureFixture[str]
) -> None:
    """Where it was set, what is doubtful, whose word goes, and one act for all times of the wrong clock."""
    machine.true += HOUR
    machine.error = -2 * HOUR
    say(capsys, "reading", "walk-in", "38 F")
    say(capsys, "reading", "walk-in", "39 F")
    machine.error = timedelta(0)
    machine.true += 5 * HOUR
    say(capsys, "reading", "walk-in", "40 F")
    code, out, _ = say(capsys, "clock")
    assert code == 1
    assert "set 2 h back between entries 1 and 2" in out
    assert "set 2 h on between entries 3 and 4" in out
    assert "≈ entries 2 to 3: written by a clock 2 h behind; board clock --put-right 2 puts 2 right" in out
    code, out, err = say(capsys, "clock", "--put-right", "2", "--json")
    assert code == 0
    assert "the times of 2 entries put right" in err
    assert [one["left"] for one in json.loads(out)["doubts"]] == []
    with open_ledger(Path("board.db")) as ledger:
        taken = read.readings(ledger, place="walk-in")
        assert [one.at <= machine.true for one in taken] == [True, True, True]
        assert taken == sorted(taken, key=lambda one: one.at)


@pytest.mark.parametrize("error", [-2 * HOUR, 2 * HOUR])
def test_what_is_due_is_told_by_what_passed_and_not_by_a_clock_that_was_set(
    error: timedelta, machine: Machine, capsys: pytest.CaptureFixture[str]
) -> None:
    """Beans that cool are missed two and a half hours on, and not before; one line says so of the clock."""
    say(capsys, "watch", "begin", "cooling", "beans")
    began = machine.true
    machine.true += HOUR
    machine.error = error
    code, _, err = say(capsys, "watch", "list")
    assert (code, "this machine's clock looks wrong" in err) == (0, True)
    machine.true += 1.5 * HOUR
    code, out, _ = say(capsys, "watch", "list", "--json")
    assert code == 1
    assert json.loads(out)["failing"][0].startswith("beans: to be 70° by ")
    missed = say(capsys, "show", "opening")[1]
    with open_ledger(Path("board.db")) as ledger:
        assert f"by {ledger.clock(began + 2 * HOUR)}, but no reading shows it" in " ".join(missed.split())


def test_a_persons_word_settles_a_clock_that_was_set_right(
    machine: Machine, capsys: pytest.CaptureFixture[str]
) -> None:
    """After it nothing is told any more, and what was written before counts as doubtful."""
    machine.true += HOUR
    say(capsys, "reading", "walk-in", "38 F")
    machine.error = HOUR
    assert "looks wrong" in say(capsys, "clock")[1]
    code, out, err = say(capsys, "clock", "--right")
    assert code == 1
    assert "this machine's clock is right, by Ines (entry 3)" in err
    assert "≈ entries 1 to 2: written by a clock 1 h behind" in out
    assert "looks wrong" not in say(capsys, "reading", "walk-in", "38 F")[2]
    assert "agrees with the entries" in say(capsys, "clock", "--right")[2]


@pytest.mark.parametrize(
    "typed",
    [("--put-right", "1"), ("--put-right", "999"), ("--put-right", "nought"), ("--right", "--who", " ")],
)
def test_what_cannot_be_is_one_line(
    typed: tuple[str, ...], machine: Machine, capsys: pytest.CaptureFixture[str]
) -> None:
    """An entry that is not doubtful, none, no number, nobody."""
    machine.error = HOUR
    code, out, err = say(capsys, "clock", *typed)
    assert (code, out, len(err.splitlines())) == (2, "", 1)
