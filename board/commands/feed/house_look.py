"""Whether the house says something else of its probes than the feed that runs goes by."""

from pathlib import Path

from board.errors import BoardError
from board.house.files import read_house
from board.house.folder import look_of
from board.house.model import House


class HouseLook:
    """Looks at a house's files beside a feed, which goes by the house as it was when it began."""

    def __init__(self, folder: Path, house: House) -> None:
        self._folder = folder
        self._house = house
        self._seen = self._last = look_of(folder)

    def word(self) -> str:
        """What to do where the files say something else since; told once for each change that has settled."""
        now, before = look_of(self._folder), self._last
        self._last = now
        if now == self._seen or now != before:
            return ""
        self._seen = now
        try:
            house = read_house(self._folder)
        except BoardError:  # the boards tell what is wrong
            return ""
        if _of(house) == _of(self._house):
            return ""
        return "the house says something else of its probes now: end this feed and begin it again to go by it"


def _of(house: House) -> tuple[object, object, str]:
    return house.probes, house.keeping, house.zone
