"""Where the houses that come with the program are."""

import pytest

from board.errors import BoardError
from board.house.seeds import seed_house


def test_the_demo_house_is_found():
    """The demo's folder holds its house file."""
    assert (seed_house("tallow_row") / "house.toml").is_file()


def test_an_unknown_seed_names_those_there_are():
    """A house that does not come with the program is refused with the list of those that do."""
    with pytest.raises(BoardError, match="tallow_row"):
        seed_house("nowhere")
