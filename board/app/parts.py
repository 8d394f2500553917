"""The parts of a board that nobody needs before asking for them: each is imported as it is first used."""

from functools import cached_property
from typing import TYPE_CHECKING, cast

if TYPE_CHECKING:
    from board.app.app import BoardApp
    from board.app.backing import Backing
    from board.app.clocking import Clocking
    from board.app.closing import Closing
    from board.app.entering import Entering
    from board.app.guiding import Guiding
    from board.app.keeping import Keeping
    from board.app.looking import Looking
    from board.app.marking import Marking
    from board.app.probing import Probing
    from board.app.remedying import Remedying


class Parts:
    """What a board asks and tells beside its views, so that the first screen waits for none of it."""

    @property
    def _board(self) -> "BoardApp":
        return cast("BoardApp", self)

    @cached_property
    def keeping(self) -> "Keeping":
        """The questions about what is watched, and the record."""
        from board.app.keeping import Keeping

        return Keeping(self._board)

    @cached_property
    def marking(self) -> "Marking":
        """Many steps marked at once."""
        from board.app.marking import Marking

        return Marking(self._board)

    @cached_property
    def closing(self) -> "Closing":
        """The questions at the end of a service."""
        from board.app.closing import Closing

        return Closing(self._board)

    @cached_property
    def entering(self) -> "Entering":
        """Temperatures, and times put right."""
        from board.app.entering import Entering

        return Entering(self._board)

    @cached_property
    def guiding(self) -> "Guiding":
        """Help, and finding one's way."""
        from board.app.guiding import Guiding

        return Guiding(self._board)

    @cached_property
    def remedying(self) -> "Remedying":
        """The list of what would help a load."""
        from board.app.remedying import Remedying

        return Remedying(self._board)

    @cached_property
    def probing(self) -> "Probing":
        """Which probe is in which load."""
        from board.app.probing import Probing

        return Probing(self._board)

    @cached_property
    def clocking(self) -> "Clocking":
        """What is made of this machine's clock."""
        from board.app.clocking import Clocking

        return Clocking(self._board)

    @cached_property
    def backing(self) -> "Backing":
        """The backups a board sees to by itself."""
        from board.app.backing import Backing

        return Backing(self._board)

    @cached_property
    def looking(self) -> "Looking":
        """What the sums expect of the loads that are looked at."""
        from board.app.looking import Looking

        return Looking(self._board, self._board.session)

    def look_anew(self) -> None:
        """Forget what was expected of loads."""
        self.__dict__.pop("looking", None)
