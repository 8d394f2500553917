"""Remedies worked out in the background: for every load in trouble, and for one that is asked about."""

from collections.abc import Callable
from dataclasses import dataclass, field
from threading import Thread

from textual.app import App
from textual.message import Message

from board.app.session import Session
from board.planning.plan import Plan, PlannedLoad
from board.planning.remedies.remedy import Advice
from board.views.facts import Facts
from board.views.progress import Revised
from board.views.remedying import Moment, around, asked_of

Found = dict[str, Advice | None]


class Advised(Message):
    """What helps some loads, by id; `asked` tells what it depended on, where it is for all in trouble."""

    def __init__(self, found: Found, asked: Moment | None = None) -> None:
        super().__init__()
        self.found = found
        self.asked = asked


@dataclass
class Advising:
    """The advice there is, and at most one sum under way; its answer comes as a message."""

    app: App[None]
    session: Session
    known: Found = field(default_factory=dict)
    busy: bool = False
    _asked: Moment = ()
    _around: dict[str, Moment] = field(default_factory=dict)

    @property
    def worked_out(self) -> dict[str, Advice]:
        """The advice there is, by load id."""
        return {id: advice for id, advice in self.known.items() if advice is not None}

    def keep_up(self, facts: Facts, revised: Revised) -> None:
        """Begin anew where what the advice depends on has changed, and forget what was asked before that."""
        for id, then in list(self._around.items()):
            if around(facts, [id], revised) != then:
                del self._around[id]
                self.known.pop(id, None)
        asked = asked_of(facts, revised)
        if asked == self._asked or self.busy:
            return
        if not asked:
            self._asked, self.known = (), {}
            return
        self._begin(lambda: Advised(dict(self.session.adviser(facts, revised)), asked))

    def ask(self, facts: Facts, plan: Plan, load: PlannedLoad, revised: Revised) -> bool:
        """Begin to work out what helps one load; false while another sum is under way."""
        if self.busy:
            return False
        self._around[load.id] = around(facts, [load.id], revised)
        self._begin(lambda: Advised({load.id: self.session.helper(facts, plan, load, revised)}))
        return True

    def took_in(self, message: Advised) -> None:
        """Keep what came; advice on all in trouble replaces what was known."""
        self.busy = False
        if message.asked is None:
            self.known |= message.found
        else:
            self._asked, self.known = message.asked, message.found

    def _begin(self, work: Callable[[], Advised]) -> None:
        self.busy = True
        Thread(target=self._run, args=(work,), daemon=True).start()

    def _run(self, work: Callable[[], Advised]) -> None:
        """In its own thread: tells the application, touches nothing else."""
        told = Advised({})
        try:
            told = work()
        finally:
            self.app.post_message(told)
