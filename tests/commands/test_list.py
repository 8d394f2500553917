"""`board list`: what to have and what to pull out, as text, rows and JSON."""

import csv
import json
from io import StringIO
from pathlib import Path

import pytest

from board.house.seeds import seed_house

from .conftest import AT, say

SPAN = ("--at", AT, "--from", "2026-12-19", "--to", "2026-12-20")


def told(capsys: pytest.CaptureFixture[str], *typed: str) -> dict[str, object]:
    """The lists as one JSON document."""
    code, out, _ = say(capsys, "list", *typed, "--json")
    assert code == 0
    found = json.loads(out)
    assert isinstance(found, dict)
    return found


def test_both_lists_as_text(demo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Meat, ingredients, fuel and what is pulled out, within the width."""
    code, out, _ = say(capsys, "list", "--ledger", str(demo), *SPAN, "--width", "70")
    assert code == 0
    assert "To have  Sat 19 Dec to Sun 20 Dec" in out
    assert "out of the walk-in to" in out
    assert all(len(line) <= 70 for line in out.splitlines())


def test_the_rows_are_the_document(demo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """As rows of a spreadsheet there is one for each thing that the document lists."""
    document = told(capsys, "--ledger", str(demo), *SPAN)
    _, out, _ = say(capsys, "list", "--ledger", str(demo), *SPAN, "--csv")
    rows = list(csv.DictReader(StringIO(out)))
    for kind, name in (
        ("ingredient", "ingredients"),
        ("meat", "meat"),
        ("fuel", "fuel"),
        ("pull", "pulling"),
    ):
        assert len([row for row in rows if row["list"] == kind]) == len(document[name])  # type: ignore[arg-type]
    assert all(row["mass_kg"] for row in rows)


def test_the_same_question_gets_the_same_answer(demo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Asked twice, byte for byte the same."""
    asked = ("--ledger", str(demo), *SPAN, "--json")
    assert say(capsys, "list", *asked) == say(capsys, "list", *asked)


def test_lists_from_a_house_and_its_plans(capsys: pytest.CaptureFixture[str]) -> None:
    """Without a ledger, the lists are those of the plans given: nothing is done yet, all is listed."""
    house = seed_house("tallow_row")
    plan = house / "plan-2026-12-19.json"
    span = ("--at", "2026-12-10T08:00", "--from", "2026-12-10", "--to", "2026-12-19")
    found = told(capsys, str(house), "--plan", str(plan), *span)
    loads = json.loads(plan.read_text(encoding="utf-8"))["loads"]
    meat = found["meat"]
    assert isinstance(meat, list)
    assert sum(one["pieces"] for one in meat) == sum(load["pieces"] for load in loads)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        (("--from", "2026-12-20", "--to", "2026-12-19"), "before it begins"),
        (("--from", "2026-01-01", "--to", "2026-12-19"), "more than 60 days"),
        (("--from", "whenever"), "--from: found 'whenever'"),
        (("--to", "whenever"), "--to: found 'whenever'"),
        (("--csv", "--json"), "take one"),
        (("house-without-plans",), "--plan"),
    ],
)
def test_what_cannot_be_listed_is_one_line(
    demo: Path, capsys: pytest.CaptureFixture[str], typed: tuple[str, ...], says: str
) -> None:
    """A wrong span or a house without plans ends with 2 and a line that says what is allowed."""
    code, out, err = say(capsys, "list", "--ledger", str(demo), *typed)
    assert (code, out) == (2, "")
    assert says in err
    assert "Traceback" not in err
