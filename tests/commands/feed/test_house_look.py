"""A feed that runs says that the house's files say something else of its probes."""

from pathlib import Path

from board.commands.feed.house_look import HouseLook
from board.house.files import read_house


def test_other_probes_are_told_once_when_their_file_has_settled(folder: Path) -> None:
    """Not what is still being written, nor a change that means nothing to probes, nor a fault."""
    file, looked = folder / "probes.toml", HouseLook(folder, read_house(folder))
    words = [looked.word()]
    sound = file.read_text(encoding="utf-8")
    for text in (f"# a word\n{sound}", "no = probes", sound.replace("north-grate", "grate")):
        file.write_text(text, encoding="utf-8")
        words += [looked.word(), looked.word(), looked.word()]
    told, *others = sorted(words, reverse=True)
    assert "end this feed and begin it again" in told
    assert words.index(told) == 8, "at the second look that finds the file as it was"
    assert set(others) == {""}
