"""What the sums expect of the loads that are looked at, worked out in the background."""

from dataclasses import dataclass
from threading import Thread

from textual.app import App
from textual.message import Message

from board.app.session import Session
from board.views.facts import Facts
from board.views.load_course import Known, LoadCourse, known_of


class Looked(Message):
    """What the sums expect of one load, or nothing where they cannot say."""

    def __init__(self, key: str, known: Known, course: LoadCourse | None) -> None:
        super().__init__()
        self.key = key
        self.known = known
        self.course = course


@dataclass
class Looking:
    """What the sums expect of the loads looked at, one load at a time; the last answer stands meanwhile."""

    app: App[None]
    session: Session

    def __post_init__(self) -> None:
        self._courses: dict[str, tuple[Known, LoadCourse | None]] = {}
        self._busy = ""

    @property
    def busy(self) -> bool:
        """Whether an answer is still to come."""
        return bool(self._busy)

    def course(self, facts: Facts, key: str) -> LoadCourse | None:
        """What is known of a load's course now; a newer one is begun where something was marked since."""
        known, course = self._courses.get(key, ((), None))
        wanted = known_of(facts, key)
        if wanted != known and not self._busy:
            self._busy = key
            Thread(target=self._look, args=(facts, key, wanted), daemon=True).start()
        return course

    def took_in(self, message: Looked) -> None:
        """Keep what came."""
        self._courses[message.key] = (message.known, message.course)
        self._busy = ""

    def _look(self, facts: Facts, key: str, known: Known) -> None:
        """In its own thread: tells the application, touches nothing else."""
        course = None
        try:
            course = self.session.looker(facts, key)
        finally:
            self.app.post_message(Looked(key, known, course))
