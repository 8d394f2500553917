"""The board: the views, the keys that work in all of them, and the wiring to the ledger and the planner."""

import sys
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from datetime import datetime, timedelta
from functools import partial
from typing import TYPE_CHECKING, ClassVar

from rich.console import Console
from textual.css.query import NoMatches
from textual.events import Event
from textual.filter import LineFilter

from board.app.advising import Advised, Advising
from board.app.alarming import Alarming
from board.app.background import LaidOpen, Planned, Planning, Revising, revise
from board.app.failing import Failing
from board.app.greeting import greet
from board.app.harmless import take_pasted
from board.app.house_files import HouseFiles, HouseRead, who_after
from board.app.keymap import folder_of, keymap_of
from board.app.keys import EVERYWHERE, bindings
from board.app.looks import Looks
from board.app.parts import Parts
from board.app.screens.modes import MODES
from board.app.screens.view import ViewScreen
from board.app.session import Session
from board.app.setting import Setting
from board.app.settings import Settings
from board.app.settings_file import settings_path
from board.app.settled import Settled
from board.app.stopping import TERMINATED, when_told_to_stop
from board.app.warming import warm
from board.errors import BoardError, LedgerError
from board.house.calendar import zone
from board.house.model import House
from board.house.spans import TimeSpan
from board.ledger import read
from board.views import names
from board.views.facts import Facts, load_of
from board.views.revising import Fingerprint, fingerprint, is_cooking
from board.views.text import Cell, Tone, inert

if TYPE_CHECKING:
    from board.app.acting import Told
    from board.app.backing import BackedUp
    from board.app.looking import Looked

POLL_SECONDS = 0.5
TOLD_SECONDS = 12
FEED_EVERY = timedelta(seconds=5)
PATIENCE_SECONDS = 2.0  # the screen stands still no longer than this for another writer
PAINTED_SECONDS = 0.5  # by then the first screen is taken to be painted
_TAKEN_BACK = (
    "",
    "; {u} takes it back",
    "; {u} takes back the last, {u} again the rest",
)  # by entries written
_NOTE = "What should those who come after know?"
ROOMY_HEIGHT = 32  # on fewer lines dialogs do without gaps
GIVE_WAY_SECONDS = 0.001  # a planning thread lets the screen in this often


class BoardApp(Parts, Failing[None]):
    """The five views over one ledger; everything typed is in the ledger before the screen says so."""

    TITLE = "Board"
    CSS_PATH = "board.tcss"
    BINDINGS = bindings(EVERYWHERE)
    MODES: ClassVar = MODES
    DEFAULT_MODE = "opening"
    ENABLE_COMMAND_PALETTE = False
    VERTICAL_BREAKPOINTS = [(0, "-low"), (ROOMY_HEIGHT, "-roomy")]  # noqa: RUF012 - as Textual declares it

    def __init__(
        self, session: Session, settings: Settings | None = None, settled: Settled | None = None
    ) -> None:
        super().__init__()
        # a fault of the program itself is told without colours: commands/outlet.py lets no code through
        self.error_console = Console(stderr=True, markup=False, highlight=False, color_system=None)
        self.session = session
        session.ledger.wait_at_most(PATIENCE_SECONDS)
        self.settings = settings or (settled.settings if settled else Settings())
        self.setting = Setting(self, settled or Settled(self.settings, settings_path()))
        self.facts: Facts = session.facts()
        self.planning = Planning(self, session)
        self.advising = Advising(self, session)
        self.keymap = keymap_of(folder_of(session.ledger), self.settings)
        self.set_keymap(dict(self.keymap.changes))
        self.told: Cell | None = None
        self.revised: Mapping[str, TimeSpan] = {}
        self.revising = self._revised_once = False
        self.when_painted: list[Callable[[], None]] = [partial(greet, self), self._begin_to_revise]
        self._read: Fingerprint = ()
        self._told_at = session.clock.now()
        self._seen = read.data_version(session.ledger)
        self.looks = Looks(self, session.house.display)
        self.house_files = HouseFiles(self)
        self.alarming = Alarming(self)

    def get_line_filters(self) -> Sequence[LineFilter]:
        """What every line goes through before it is written."""
        return self.looks.filters(super().get_line_filters())

    async def on_event(self, event: Event) -> None:
        """What is pasted is plain text."""
        take_pasted(event)
        await super().on_event(event)

    def on_mount(self) -> None:
        """Leave the terminal clean when told to stop, and keep up with the ledger and the clock."""
        when_told_to_stop(partial(self.exit, return_code=TERMINATED))
        self.set_interval(POLL_SECONDS, self.keep_up)
        self.revising = True  # from when the first screen is painted: sums would be in its way
        self.call_after_refresh(self._painted)
        self.set_timer(PAINTED_SECONDS, self._painted)  # a screen that a quick key leaves never tells
        self.house_files.begin()

    def on_unmount(self) -> None:
        """Leave nothing behind that looks at files."""
        self.house_files.end()

    def on_house_read(self, message: HouseRead) -> None:
        """Take in what was changed in the house's files."""
        self.house_files.took_in(message)

    def take_house(self, house: House) -> None:
        """Go on with the house as its files are now: keys, looks, all that is worked out with it."""
        session = self.session
        session.who, session.house = who_after(self, house), house
        session.ledger.zone, session.ledger.clock_hours = zone(house), house.display.clock_hours
        self.keymap = keymap_of(folder_of(session.ledger), self.settings)
        self.set_keymap(dict(self.keymap.changes))
        self.looks = Looks(self, house.display)
        self.look_anew()
        self.advising = Advising(self, session)
        self._read = ()
        self.renew()

    def keep_up(self) -> None:
        """Show what another board wrote, and each new minute; a busy ledger is looked at again."""
        try:
            self._keep_up()
        except BoardError as error:
            self.say(str(error), Tone.LATE)

    def _keep_up(self) -> None:
        self.session.ledger.check_in_place()
        seen = read.data_version(self.session.ledger)
        now = self.session.clock.now()
        if self.told is not None and (now - self._told_at).total_seconds() > TOLD_SECONDS:
            self.told = None
            self._tell()
        minute = now.replace(second=0, microsecond=0)
        is_set = self.clocking.noticed()
        if is_set or self._is_news(seen, now) or minute != self.facts.now.replace(second=0, microsecond=0):
            self.renew()
        self.house_files.keep_up()
        if not self.when_painted:
            self.backing.keep_up()

    def _is_news(self, seen: tuple[int, int], now: datetime) -> bool:
        """Whether the ledger has changed; what probes feed each second is looked at every few seconds."""
        if seen == self._seen:
            return False
        waits = timedelta() <= now - self.facts.now < FEED_EVERY
        return not (waits and read.is_fed_alone(self.session.ledger, self._seen[1]))

    def renew(self) -> None:
        """Read the ledger and show it."""
        self._seen = read.data_version(self.session.ledger)
        self.clocking.hear()
        self.facts = self.session.facts()
        self._revise()
        self.alarming.keep_up()
        self.backing.tell_restored()
        self._show()

    def _show(self) -> None:
        """Show what is known in the view that is up; one that is only being made shows it by itself."""
        with suppress(NoMatches):
            self.view.show(self.facts)

    @property
    def view(self) -> ViewScreen:
        """The view that is up, under any dialog.

        Raises:
            NoMatches: the board is being left, and no view is up any more.
        """
        screens = [screen for screen in self.screen_stack if isinstance(screen, ViewScreen)]
        if not screens:
            raise NoMatches("no view is up")
        return screens[-1]

    def say(self, sentence: str, tone: Tone = Tone.GOOD) -> None:
        """Say a sentence on the line above the keys."""
        self.told = Cell(inert(sentence), tone)
        self._told_at = self.session.clock.now()
        self._tell()

    def _tell(self) -> None:
        """Tell what was said in the view that is up; one that is only being made tells it by itself."""
        with suppress(NoMatches):
            self.view.tell()

    def record(self, act: Callable[[], "Told"]) -> None:
        """Do something that writes to the ledger, and say what was recorded or why it was not."""
        self.attempt(lambda: self.write(act))

    def attempt(self, act: Callable[[], None]) -> None:
        """Do it, or say why it cannot be done."""
        try:
            act()
        except BoardError as error:
            self.say(str(error), Tone.LATE)

    def write(self, act: Callable[[], "Told"]) -> None:
        """Do it and say what was recorded; raises BoardError where it cannot be, for a dialog to tell."""
        before = self.session.ledger.commits
        try:
            told = act()
            self.renew()
        except LedgerError as error:
            if self.session.ledger.commits == before:
                raise self.clocking.doubting(error) from error
            self.say(f"it is recorded, but cannot be shown: {error}", Tone.LATE)  # not to be entered again
            return
        who = names.person_name(self.session.house, self.session.who)
        by = f" ({who})" if told.entries else ""
        self.say(told.says + by + _TAKEN_BACK[min(told.entries, 2)].format(u=self.keymap.key("undo")))

    def _painted(self) -> None:
        """Do once what waits for the first screen."""
        waiting, self.when_painted = self.when_painted, []
        for act in waiting:
            act()

    def _begin_to_revise(self) -> None:
        self.revising = False
        self._revise()

    def _revise(self) -> None:
        """Revise pull times when there is a reading that they do not know yet."""
        read_now = fingerprint(self.facts)
        if read_now != self._read:
            self._read, self.revising = read_now, True
            revise(self, self.session.reviser, self.facts)
        elif not self.revising:
            self.advising.keep_up(self.facts, self.revised)

    def on_revising(self, message: Revising) -> None:
        """Show the revised times, and say at once of a reading just taken that it does not count."""
        from board.views.left_out import newly_left_out

        not_counted = newly_left_out(self.facts, message.revised, self.revised) if self._revised_once else ""
        self.revised, self.revising, self._revised_once = message.revised, False, True
        self.advising.keep_up(self.facts, self.revised)
        self.alarming.keep_up()
        self._show()
        self.remedying.show()
        if not_counted:
            self.say(f"{not_counted}; {self.keymap.key('undo')} takes it back", Tone.CARE)

    def on_advised(self, message: Advised) -> None:
        """Show what helps, in the views and in the list that waits for it."""
        self.advising.took_in(message)
        self.advising.keep_up(self.facts, self.revised)
        self.alarming.keep_up()
        self._show()
        self.remedying.show()

    def cooks(self, key: str) -> bool:
        """Whether a key is that of a load on a pit."""
        found = load_of(self.facts, key) if key else None
        return found is not None and is_cooking(self.facts, *found)

    def open_remedies(self, key: str) -> None:
        """List what would help a load that cooks."""
        self.remedying.open(key)

    def on_backed_up(self, message: "BackedUp") -> None:
        """Keep how the backups stand."""
        self.backing.took_in(message)
        self.alarming.keep_up()
        self._show()

    def on_looked(self, message: "Looked") -> None:
        """Show what the sums expect of a load."""
        self.looking.took_in(message)
        self._show()

    def on_laid_open(self, message: LaidOpen) -> None:
        """Let the open dialog try its load on the plan laid open."""
        from board.app.dialogs.docked import Docked

        dialog = self.screen
        if not isinstance(dialog, Docked) or dialog.day != message.plan.day:
            return
        if message.desk is None:
            dialog.call_later(dialog.say, message.problem)
        else:
            dialog.call_later(dialog.lay_open, message.plan, message.desk)

    def on_planned(self, message: Planned) -> None:
        """Show a plan that came from the search, or why there is none."""
        from board.views.committing import less_sure

        self.planning.took_in(message)
        if message.plan is not None or not message.word:
            self.house_files.planned(message.day, done=not message.word)
        if message.problem:
            self.say(message.problem, Tone.LATE)
        elif not message.word:
            key = self.keymap.key
            less = less_sure(self.facts, message.plan, key)
            says = less or self.planning.planned(message.day, message.plan, key)
            self.say(says, Tone.CARE if less else Tone.GOOD)
        self._show()

    def open_load(self, load: str) -> None:
        """Show one load by itself, over the view it was chosen in."""
        from board.app.screens.load import LoadScreen

        if isinstance(self.screen, LoadScreen):
            self.screen.look_at(load)
        else:
            self.push_screen(LoadScreen(load))

    async def action_view(self, name: str) -> None:
        """Go to another view; a load's page is left, and why something could not be done is said no more."""
        if self.told is not None and self.told.tone is not Tone.GOOD:
            self.told = None
            self.view.tell()
        await self._go_to_view(name)

    async def _go_to_view(self, name: str) -> None:
        from board.app.screens.load import LoadScreen

        if isinstance(self.screen, LoadScreen):
            await self.pop_screen()
        await self.switch_mode(name)

    def action_theme(self) -> None:
        """The next theme."""
        self.looks.next_theme()

    def action_settings(self) -> None:
        """What this machine shows, and where all is kept."""
        self.setting.open()

    def action_help(self) -> None:
        """The keys of this view, first steps, and words."""
        self.guiding.help()

    def action_palette(self) -> None:
        """Everything that can be done here and now, by name."""
        self.guiding.palette()

    def action_where_from(self) -> None:
        """Where each figure of the chosen line comes from."""
        self.guiding.where_from()

    def action_alarms(self) -> None:
        """What wants somebody now."""
        self.alarming.open()

    def action_undo(self) -> None:
        """Take back this person's last entry."""
        from board.app import signing

        self.attempt(lambda: signing.undo(self))

    def action_note(self) -> None:
        """Ask for a note."""
        from board.app.dialogs.ask import Ask

        about = self.view.note_about()
        asks = "What should those who come after know of this load?" if about else _NOTE
        self.push_screen(Ask("Note", asks, check=partial(self._note, about)))

    def _note(self, about: str, text: str) -> None:
        from board.app import acting

        self.write(lambda: acting.note(self.session, text, about))

    def action_temperature(self) -> None:
        """Ask for a temperature of the load under the cursor, or of another place."""
        if why := self.view.nothing_to_read():
            self.say(why, Tone.CARE)
            return
        self.ask_temperature(self.view.chosen_place())

    def ask_temperature(self, place: str) -> None:
        """Ask for a temperature, the place under the cursor already (`load:DAY/ID` or `place:ID`)."""
        self.entering.one(place)

    def action_temperatures(self) -> None:
        """Ask for the temperatures of all that may be measured."""
        self.entering.many()

    def action_time_right(self) -> None:
        """Ask when the last thing that this person entered truly happened."""
        self.entering.put_time_right()

    def action_who(self) -> None:
        """Ask who is at the keys."""
        from board.app.dialogs.pick import Choice, Pick

        people = [Choice(person.id, person.name) for person in self.session.house.people.values()]
        self.push_screen(Pick("Who are you?", people, self.session.who), self._who)

    def _who(self, person: str | None) -> None:
        if person:
            self.session.who = person
            self._show()

    def action_find(self) -> None:
        """Ask what to find, and go there."""
        self.guiding.find()

    async def go(self, key: str) -> None:
        """Go to a row of a view, by `VIEW:ROW`."""
        view, _, row = key.partition(":")
        await self._go_to_view(view)
        self.call_after_refresh(self._choose, row)

    def _choose(self, row: str) -> None:
        self.view.go_to(row)


def run(session: Session, settled: Settled, *, mouse: bool = True) -> int:
    """Run the board until it is left; returns the exit code the process must end with."""
    app = ready(BoardApp(session, settled=settled))
    app.run(mouse=mouse)
    return app.return_code or 0


def ready(app: BoardApp) -> BoardApp:
    """Keep a board that is alone in its process quick: threads give way, what comes soon is loaded."""
    sys.setswitchinterval(GIVE_WAY_SECONDS)
    app.when_painted.append(warm)
    return app
