"""The commands that open the board or print a view."""

import json
import os
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path

import pytest

from board.cli import run
from tests.app.boards import night_ledger

SEEDS = Path(__file__).parents[2] / "seeds"


def test_demo_without_a_terminal_prints_the_opening_view(capsys: pytest.CaptureFixture[str]) -> None:
    """`board demo` into a pipe prints the Opening view and ends as done."""
    assert run(["demo"]) == 0
    text = capsys.readouterr().out
    assert "Tallow Row" in text
    assert "05:40" in text
    assert "Do next" in text


def test_demo_has_one_load_late_and_a_batch_due(capsys: pytest.CaptureFixture[str]) -> None:
    """The demo's night leaves a late load with its reason, a pit that fell, and a batch to make."""
    run(["demo"])
    text = capsys.readouterr().out
    assert "late" in text
    assert "after plan" in text
    assert "fell to 203°" in text
    assert "for today" in text.split("Batches")[1]


def test_demo_clock_can_be_set(capsys: pytest.CaptureFixture[str]) -> None:
    """`--at` moves the morning on, and what was planned until then has happened."""
    assert run(["demo", "--at", "12:10"]) == 0
    assert "lunch until 15:00" in capsys.readouterr().out


def test_demo_refuses_what_is_no_time(capsys: pytest.CaptureFixture[str]) -> None:
    """A time that is none ends with 2 and one line that says what is allowed."""
    assert run(["demo", "--at", "noonish"]) == 2
    error = capsys.readouterr().err
    assert "05:40" in error
    assert error.count("\n") == 1


@pytest.mark.parametrize("moment", ["9999-12-31T23:59", "0001-01-01T00:00", "9999-12-31T23:59-12:00"])
def test_demo_refuses_a_time_outside_the_known_years(moment: str, capsys: pytest.CaptureFixture[str]) -> None:
    """A moment at the ends of the calendar ends with 2 and one line with the years allowed."""
    assert run(["demo", "--at", moment]) == 2
    error = capsys.readouterr().err
    assert "from 1970 to 2199" in error
    assert error.count("\n") == 1


def test_closed_output_is_no_screen(tmp_path: Path) -> None:
    """With stdin or stdout closed by the shell there is no screen, and the board ends without a traceback."""
    board = [sys.executable, "-c", "from board.cli import main; main()"]
    environment = {**os.environ, "PYTHONPATH": str(SEEDS.parent)}
    codes = []
    for close in (">&-", "<&-"):
        for arguments in (["demo"], []):
            found = subprocess.run(
                ["/bin/sh", "-c", f'"$@" {close}', "sh", *board, *arguments],
                cwd=tmp_path, env=environment, capture_output=True, text=True, check=False,
            )  # fmt: skip
            assert "Traceback" not in found.stderr
            codes.append(found.returncode)
    assert codes == [0, 2, 0, 2]


def test_stored_plan_is_of_the_told_night() -> None:
    """The demo's stored plan is a plan document of the day its night is told of."""
    document = json.loads((SEEDS / "tallow_row" / "plan-2026-12-19.json").read_text(encoding="utf-8"))
    assert document["day"] == "2026-12-19"


def test_show_prints_each_view_of_a_house(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """In a house's folder `board show` starts its ledger and prints any view, no wider than asked."""
    monkeypatch.chdir(tmp_path)
    for file in (SEEDS / "hatch").iterdir():
        (tmp_path / file.name).write_bytes(file.read_bytes())
    for view in ("opening", "tomorrow", "service", "batches", "record"):
        assert run(["show", view, "--width", "60"]) == 0
        assert all(len(line) <= 60 for line in capsys.readouterr().out.splitlines())
    assert (tmp_path / "board.db").exists()


@pytest.mark.parametrize("view", ["opening", "tomorrow", "service", "batches", "record"])
@pytest.mark.parametrize("day", ["9999-12-31", "0001-01-01", "someday"])
def test_show_refuses_a_day_no_house_has(
    view: str,
    day: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Every view refuses the same days in the same one line."""
    monkeypatch.chdir(tmp_path)
    for file in (SEEDS / "hatch").iterdir():
        (tmp_path / file.name).write_bytes(file.read_bytes())
    assert run(["show", view, "--day", day]) == 2
    error = capsys.readouterr().err
    assert f"--day: found '{day}'" in error
    assert error.count("\n") == 1


def test_show_without_a_ledger_says_how_to_get_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Where there is no house and no ledger, one line says what to do, and the exit code is 2."""
    monkeypatch.chdir(tmp_path)
    assert run(["show", "opening"]) == 2
    assert "board demo" in capsys.readouterr().err
    assert run([]) == 2
    assert "board house new" in capsys.readouterr().err


def test_show_refuses_a_ledger_without_a_house(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A ledger whose house's files are gone is refused in one line."""
    night_ledger(tmp_path / "board.db").close()
    assert run(["show", "opening", "--ledger", str(tmp_path / "board.db")]) == 2
    assert "house.toml" in capsys.readouterr().err


def test_help_loads_neither_screen_nor_sums() -> None:
    """`board --help` imports no screen, no solver, no arrays and no units registry."""
    code = (
        "import sys; from board.cli import run; run(['--help']);"
        "heavy = {'textual', 'ortools', 'numpy', 'pint', 'sqlite_utils'} & set(sys.modules);"
        "sys.exit(f'{heavy}' if heavy else 0)"
    )
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, check=False).returncode == 0


def test_now_is_utc() -> None:
    """The board's clock tells aware UTC, and a set clock runs from where it was set."""
    from board.app.clock import BoardClock, SetClock  # noqa: PLC0415 - beside its only use

    assert BoardClock().now().tzinfo is UTC
    ticks = iter([10.0, 70.0])
    start = datetime(2026, 12, 19, 11, 40, tzinfo=UTC)
    assert (SetClock(start, lambda: next(ticks)).now() - start).total_seconds() == 60
