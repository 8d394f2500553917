"""The wall on the screen: large letters, nothing to choose."""

from collections.abc import Iterable

from textual.widget import Widget

from board.app.keys import WALL, bindings
from board.app.screens.view import ViewScreen
from board.app.widgets.large import LargeType
from board.views.facts import Facts
from board.views.wall import wall


class WallScreen(ViewScreen):
    """Read from three metres: the clock, the service ahead, what to do next, or what is ready and left."""

    NAME = "wall"
    TELLS_ALARMS = False
    ACTS = WALL
    BINDINGS = bindings(WALL)

    def body(self) -> Iterable[Widget]:
        """Nothing but letters."""
        yield LargeType(id="large-type")

    def refill(self, facts: Facts) -> None:
        """Show the moment."""
        view = wall(facts, self.board.revised, self.board.advising.worked_out)
        self.query_one(LargeType).show(view, solid=self.board.settings.ascii)

    async def action_back(self) -> None:
        """Back to the Opening view."""
        await self.board.action_view("opening")
