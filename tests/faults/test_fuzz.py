"""Spoilt input ends in an answer or in one line: a short run of `python -m tests.faults.fuzz`."""

from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.app import typed as app_typed
from board.app.keymap import read_keys
from board.errors import BoardError
from board.house import units
from board.house.files import read_house
from board.house.model import Display
from board.house.starter import write_starter
from board.house.time_typed import time_of_day
from board.ledger.when import moment_ago, moment_meant
from board.probes.message import read_message
from board.probes.refused import BadMessageError
from tests.faults.fuzz.hammering import hammer
from tests.faults.fuzz.spoiling import NUMBERS, TEXTS, TOML_VALUES, UNITS, Spoiler
from tests.faults.fuzz.targets import NOW, Target, borrowed, targets

READERS = [read for name, read in vars(units).items() if name.startswith("parse_")]
HERE = ZoneInfo("America/Denver")
quantities = st.one_of(
    st.text(max_size=80),
    st.tuples(st.sampled_from(NUMBERS), st.sampled_from(("", " ")), st.sampled_from(UNITS)).map("".join),
)


@pytest.mark.parametrize(("inputs", "kind"), [(900, "files and texts"), (30, "commands")])
def test_nothing_spoilt_breaks_the_board(tmp_path: Path, inputs: int, kind: str) -> None:
    """An answer, or a BoardError; a command that refuses prints one line, no data, and records nothing."""
    chosen = [one for one in targets(tmp_path) if (one.name == "commands") == (kind == "commands")]
    rows = hammer(chosen, borrowed(), inputs, seed=4)
    assert sum(row.inputs for row in rows.values()) == inputs
    assert {name: row.broke for name, row in rows.items() if row.broke} == {}


def test_what_breaks_is_counted_by_where() -> None:
    """The hammer itself: a reader that falls over is in its table, and one that refuses is too."""

    def falls(spoiler: Spoiler) -> object:
        return units.parse_mass_kg(3)  # type: ignore[arg-type]

    def refuses(spoiler: Spoiler) -> object:
        raise BoardError("refused")

    rows = hammer([Target("falls", 1, falls), Target("refuses", 1, refuses)], ["a"], 20, seed=1)
    assert rows["falls"].broke.total() == rows["falls"].inputs > 0
    assert all("units.py" in what for what in rows["falls"].broke)
    assert rows["refuses"].broke.total() == rows["refuses"].inputs > 0


def refused(error: BoardError) -> None:
    """A refusal says something."""
    assert str(error).strip()


@given(quantities)
def test_any_text_is_a_quantity_or_refused_as_one(text: str) -> None:
    """Each reader gives a number or a line that is not empty."""
    for read in (*READERS, lambda typed: app_typed.temperature_c(typed, Display())):
        try:
            assert isinstance(read(text), float)
        except BoardError as error:
            refused(error)


@given(st.one_of(st.text(max_size=40), st.from_regex(r"[0-9]{1,4}[ :.hm-]{0,2}[0-9]{0,4} ?(am|pm|h|min)?")))
def test_any_text_is_a_time_or_refused_as_one(text: str) -> None:
    """A moment that is known, or a line."""
    time_of_day(text)
    for read in (moment_meant, moment_ago):
        try:
            assert read(text, HERE, NOW).tzinfo is not None
        except BoardError as error:
            refused(error)


@given(st.one_of(st.binary(max_size=200), st.text(max_size=200)))
def test_any_message_of_a_probe_is_told_or_set_aside(message: bytes | str) -> None:
    """Nothing that arrives ends a feed."""
    try:
        read_message(message, "meat-1")
    except BadMessageError as error:
        refused(error)


@pytest.mark.parametrize("value", [*TOML_VALUES, *TEXTS, *NUMBERS], ids=lambda value: ascii(value)[:20])
def test_a_value_nobody_expects_is_refused_in_every_file(tmp_path: Path, value: str) -> None:
    """For the house's name, a pit's kind and a key: numbers without end broke each of them once."""
    write_starter(tmp_path)
    for file, key in (("house.toml", "name"), ("pits.toml", "kind")):
        text = (tmp_path / file).read_text(encoding="utf-8")
        old = next(line for line in text.splitlines() if line.startswith(f"{key} ="))
        (tmp_path / file).write_bytes(text.replace(old, f"{key} = {value}", 1).encode("utf-8", "replace"))
        with pytest.raises(BoardError) as told:
            read_house(tmp_path)
        assert str(told.value).startswith(file)
        (tmp_path / file).write_text(text, encoding="utf-8")
    (tmp_path / "keys.toml").write_bytes(f"[keys]\nundo = {value}\n".encode("utf-8", "replace"))
    read_keys(tmp_path)
