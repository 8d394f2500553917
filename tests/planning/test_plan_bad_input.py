"""What a person may mistype to `board plan`."""

import pytest

from board.cli import run
from tests.planning.by_hand import written


@pytest.mark.parametrize(
    ("option", "typed"),
    [
        ("--chance", "nan"),
        ("--seconds", "nan"),
        ("--now", "0001-01-01T00:00"),
        ("--now", "9999-12-31T23:59"),
        ("--now", "9999-12-31T23:59-12:00"),
        ("--now", "0001-01-01T00:00+14:00"),
        ("--now", ""),
    ],
)
def test_what_is_no_number_and_no_time_is_told(tmp_path, option, typed, capsys):
    """Bad input ends with 2, one line that names the option, and no plan."""
    written(tmp_path)
    assert run(["plan", str(tmp_path), "--day", "2026-06-10", option, typed]) == 2
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)
    assert option in err
