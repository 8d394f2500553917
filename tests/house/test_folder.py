"""What a folder of house files looks like, and what is left of a house that found no room."""

import os

import pytest

from board.errors import HouseFileError
from board.house import starter
from board.house.folder import look_of


def test_a_link_to_nowhere_hides_no_other_file(tmp_path):
    """Files beside one that cannot be looked at are watched on."""
    (tmp_path / "a.toml").symlink_to("nowhere")
    (tmp_path / "b.toml").symlink_to("b.toml")
    (tmp_path / "c.toml").write_text("")
    os.mkfifo(tmp_path / "d.csv")
    assert set(look_of(tmp_path)) == {"c.toml", "d.csv"}


@pytest.mark.parametrize("was_there", [True, False])
def test_a_house_that_finds_no_room_leaves_nothing_behind(tmp_path, monkeypatch, was_there):
    """Neither half of its files nor the folder that was made for them."""
    folder = tmp_path / "house"
    if was_there:
        folder.mkdir()
    calls = iter(range(100))

    def full(_):
        if next(calls) == 3:
            raise OSError(28, "No space left on device")

    monkeypatch.setattr(starter.os, "fsync", full)
    with pytest.raises(HouseFileError, match="No space left on device"):
        starter.write_starter(folder)
    assert folder.exists() == was_there
    assert not was_there or not list(folder.iterdir())
