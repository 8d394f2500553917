"""A restore that is killed leaves the old or the new; the long proof is python -m tests.faults.restore."""

import pytest

from tests.faults.restore import main


def test_killed_at_any_moment_it_is_the_old_or_the_new(capsys: pytest.CaptureFixture[str]) -> None:
    """A few rounds of each kind, with nothing wrong in any."""
    assert main(["--rounds", "4"]) == 0, capsys.readouterr().out
