"""What remedies are judged by stands in one table, each number with its source."""

import tomllib
from importlib.resources import files

from board.planning.remedies.numbers import harms, judgement
from board.planning.remedies.remedy import CostKind


def test_every_number_has_its_source() -> None:
    """No judgement stands without a source, or without saying that it has none."""
    table = tomllib.loads(files("board.planning").joinpath("data/remedies.toml").read_text(encoding="utf-8"))
    assert all(row["source"] and row["meaning"] for row in table["judgement"].values())
    assert table["harm"]["source"]


def test_every_cost_weighs_something() -> None:
    """Whatever a remedy asks in return weighs, and leaving no margin weighs most."""
    assert all(harms()[kind] > 0 for kind in CostKind)
    assert max(harms(), key=harms().__getitem__) is CostKind.NO_MARGIN


def test_the_table_names_no_cost_that_is_not_one() -> None:
    """Every name under harm is a cost that a remedy can have."""
    table = tomllib.loads(files("board.planning").joinpath("data/remedies.toml").read_text(encoding="utf-8"))
    assert set(table["harm"]) - {"source"} == {kind.value for kind in CostKind}
    assert judgement().least_change_k > judgement().same_setpoint_k
