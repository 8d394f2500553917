"""A plan's document that somebody changed is refused by name, and one that nobody did is not."""

import json

import pytest

from board.cli import run
from board.commands.demo import HOUSE
from board.house.seeds import seed_house

PLAN = seed_house(HOUSE) / "plan-2026-12-19.json"


def listed(tmp_path, change, capsys):
    """What `board list` says of the demo's plan after a change."""
    document = json.loads(PLAN.read_text(encoding="utf-8"))
    change(document)
    path = tmp_path / "plan.json"
    path.write_text(json.dumps(document), encoding="utf-8")
    code = run(["list", str(PLAN.parent), "--plan", str(path), "--from", "2026-12-19"])
    return code, capsys.readouterr()


def test_a_plan_as_it_was_printed_is_taken(tmp_path, capsys):
    """Every field of the demo's own plan is of its kind."""
    code, said = listed(tmp_path, lambda document: None, capsys)
    assert (code, said.err) == (0, "")


@pytest.mark.parametrize(
    ("key", "value", "told"),
    [
        ("id", {}, "plan.loads.0.id is wrong"),
        ("pit", True, "plan.loads.0.pit is wrong"),
        ("cut", "\x1b[31m", "plan.loads.0.cut is wrong"),
        ("mass_kg", float("nan"), "plan.loads.0.mass_kg is wrong"),
        ("mass_kg", 0.0, "plan.loads.0.mass_kg is wrong"),
        ("pieces", 0, "plan.loads.0.pieces is wrong"),
        ("mass_kg", 10**400, "not a plan document"),
        ("load_at", "9999-12-31T23:59:00-12:00", "not a plan document"),
        ("load_at", "0900-01-01T00:00:00Z", "plan.loads.0.load_at is wrong"),
        ("services", [["lunch"]], "plan.loads.0.services.0 is wrong"),
    ],
)
def test_a_field_of_another_kind_is_named(tmp_path, key, value, told, capsys):
    """One line, exit 2, nothing printed as data."""
    code, said = listed(tmp_path, lambda document: document["loads"][0].update({key: value}), capsys)
    assert (code, said.out, said.err.count("\n")) == (2, "", 1)
    assert told in said.err


def test_a_plan_of_another_zone_is_refused(tmp_path, capsys):
    """Its times of day would be others."""
    code, said = listed(tmp_path, lambda document: document.update(zone="Europe/Paris"), capsys)
    assert code == 2
    assert "is a plan in Europe/Paris; allowed is one in" in said.err
