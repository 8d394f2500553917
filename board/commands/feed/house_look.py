"""Whether the house says something else of its probes than the feed that runs goes by."""

from pathlib import Path

from board.errors import BoardError
from board.house.files import read_house
from board.house.folder import Watched
from board.house.model import House


class HouseLook:
    """Looks at a house's files beside a feed, which goes by the house as it was when it began."""

    def __init__(self, folder: Path, house: House) -> None:
        self._files = Watched(folder)
        self._house = house

    def word(self) -> str:
        """What to do where the files say something else since; told once for each change that has settled."""
        if not self._files.changed():
            return ""
        try:
            house = read_house(self._files.folder)
        except BoardError:  # the boards tell what is wrong
            return ""
        if _of(house) == _of(self._house):
            return ""
        return "the house says something else of its probes now: end this feed and begin it again to go by it"


def _of(house: House) -> tuple[object, object, str]:
    return house.probes, house.keeping, house.zone
