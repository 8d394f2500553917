"""What the keys do on each page of the making of a house: the questions, and where the answers go."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from board.app.dialogs.ask import Ask
from board.app.dialogs.pick import Choice, Pick
from board.app.founding.place import usual_folder, writable
from board.errors import BoardError, HouseFileError
from board.house import founding as new
from board.house.files import read_house
from board.house.folder import folder_meant
from board.house.founding import Dish, NewHouse, NewPit, Times
from board.house.model import JURISDICTIONS, PitKind
from board.house.shipped import shipped
from board.house.zones import countries, zones
from board.safety.tables import place_name
from board.views import founding as pages
from board.views.founding import CREW, GO_ON, HOUSE, LOOK, PITS, SERVICES, SOLD, START

if TYPE_CHECKING:
    from board.app.founding.screen import FoundingScreen

_SWAPS = {
    "mass": ("kg", "lb"),
    "temperature": ("degC", "degF"),
    "volume": ("L", "gal"),
    "clock": (12, 24),
}
_KEYS = {
    "add": (PITS, SERVICES, CREW),
    "take-away": (PITS, SERVICES, CREW),
    "tick": (SOLD,),
    "edit": (SOLD,),
    "on": (HOUSE, PITS, SOLD, SERVICES, CREW),
    "back": (HOUSE, PITS, SOLD, SERVICES, CREW, LOOK),
}


@dataclass(frozen=True, slots=True)
class Question:
    """One line to ask: what, what stands there already, and how it is read or refused."""

    says: str
    answer: str
    read: Callable[[str], object]


class Answers:
    """The answers of one house in the making."""

    def __init__(self, screen: FoundingScreen) -> None:
        self._screen = screen
        self._begun = self._house

    @property
    def _house(self) -> NewHouse:
        return self._screen.founding.standing.house

    @property
    def any(self) -> bool:
        """Whether anything was answered that leaving would lose."""
        return self._house != self._begun or bool(self._house.name)

    @property
    def _page(self) -> int:
        return self._screen.founding.standing.page

    @property
    def _line(self) -> str:
        row = self._screen.panel.chosen
        return row.key if row else ""

    def knows(self, act: str) -> bool:
        """Whether a key does something on this page."""
        return act not in _KEYS or self._page in _KEYS[act]

    def first_line(self) -> str:
        """The line to begin a page on: what is still open, else what goes on."""
        house = self._house
        if self._page == START:
            return pages.NEW
        if self._page == HOUSE:
            return GO_ON if house.name and house.zone else "zone" if house.name else "name"
        if self._page == CREW:
            return next((str(i) for i, shift in enumerate(house.shifts) if not shift.people), GO_ON)
        return new.cuts_offered()[0] if self._page == SOLD else GO_ON

    def keep(self, house: NewHouse) -> None:
        """Take an answer in and show it."""
        founding = self._screen.founding
        founding.standing = founding.standing._replace(house=house)
        self._screen.show()

    def likely(self) -> None:
        """What Enter does on the chosen line."""
        line = self._line
        if line == GO_ON and self._page == LOOK:
            self._write()
        elif line == GO_ON:
            self._screen.turn_to(self._page + 1)
        elif self._page == START:
            self._start(line)
        elif self._page == HOUSE:
            self._of_house(line)
        elif self._page == SOLD:
            self._tick(line)
        else:
            self.edit()

    def edit(self) -> None:
        """Change the chosen line."""
        line = self._line
        if not line or line == GO_ON:
            return
        if self._page == PITS:
            self._change_pit(int(line))
        elif self._page == SOLD:
            self._change_dish(line)
        elif self._page in (SERVICES, CREW):
            self._change_times(int(line))

    def add(self) -> None:
        """Add one of what the page lists."""
        if self._page == PITS:
            told = shipped("pit_kinds")
            kinds = [
                Choice(kind, kind.value, told[kind.value]["name"].partition(": ")[2]) for kind in PitKind
            ]
            self._pick("What kind of pit?", kinds, self._add_pits)
        elif self._page in (SERVICES, CREW):
            self._change_times(None)

    def take_away(self) -> None:
        """Take the chosen line away."""
        line, house = self._line, self._house
        if not line.isdigit():
            return
        at = int(line)
        field = {PITS: "pits", SERVICES: "services", CREW: "shifts"}.get(self._page)
        if field:
            listed = getattr(house, field)
            left: dict[str, Any] = {field: (*listed[:at], *listed[at + 1 :])}
            self.keep(replace(house, **left))

    def _start(self, line: str) -> None:
        if line == pages.NEW:
            self._screen.turn_to(HOUSE)
        elif line == pages.OTHER:
            question = Question("Which folder is it in?", "", self._a_house)
            self._ask("Open another folder", [question], lambda told: self._leave_for(told[0]))
        elif line == pages.DEMO:
            self._screen.founding.leave(pages.DEMO)
        else:
            self._screen.founding.leave("")

    def _leave_for(self, folder: Any) -> None:
        self._screen.founding.leave(pages.OTHER, folder)

    def _a_house(self, typed: str) -> Path:
        folder = self._screen.founding.here / folder_meant(typed)
        read_house(folder)
        return folder

    def _of_house(self, line: str) -> None:
        house, standing = self._house, self._screen.founding.standing
        if line == "name":
            self._ask(
                "The house", [Question("What is the house called?", house.name, new.a_name)], self._named
            )
        elif line == "folder":
            self._ask(
                "The house",
                [Question("Which folder shall its files be in?", standing.folder, self._a_folder)],
                lambda told: self._in_folder(told[0]),
            )
        elif line == "zone":
            choices = [Choice(zone, zone, countries().get(code, code)) for zone, code in zones().items()]
            self._pick("Which time zone? Type a town or a country", choices, self._in_zone, house.zone)
        elif line == "rules":
            about = "its figures of food safety; the local code decides"
            choices = [Choice(place, place_name(place), about) for place in JURISDICTIONS]
            self._pick("By whose rules?", choices, self._by_rules, house.jurisdiction)
        elif line in _SWAPS:
            field = "clock_hours" if line == "clock" else line
            one, other = _SWAPS[line]
            value = other if getattr(house.display, field) == one else one
            changes: dict[str, Any] = {field: value}
            self.keep(new.measured(house, replace(house.display, **changes)))

    def _named(self, told: Sequence[Any]) -> None:
        founding, house = self._screen.founding, self._house
        usual = usual_folder(founding.here, house.name)
        if founding.standing.folder == str(usual):
            self._in_folder(usual_folder(founding.here, told[0]))
        self.keep(replace(house, name=told[0]))
        self._screen.panel.choose(self.first_line())

    def _in_folder(self, folder: Path) -> None:
        founding = self._screen.founding
        founding.standing = founding.standing._replace(folder=str(folder))
        self._screen.show()

    def _a_folder(self, typed: str) -> Path:
        folder = self._screen.founding.here / folder_meant(typed)
        return writable(folder)

    def _in_zone(self, zone: str) -> None:
        house = self._house
        guess = new.placed(house, zones().get(house.zone, ""))
        placed = new.placed(house, zones().get(zone, ""))
        if not house.zone or guess.display == house.display:
            house = new.measured(house, placed.display)
        if guess.jurisdiction == house.jurisdiction:
            house = replace(house, jurisdiction=placed.jurisdiction)
        self.keep(replace(house, zone=zone))

    def _by_rules(self, place: str) -> None:
        self.keep(replace(self._house, jurisdiction=place))

    def _add_pits(self, kind: str) -> None:
        house = self._house
        usual = new.usual_pit(house, PitKind(kind))
        questions = [
            Question("How many of that kind and size?", "1", a_count),
            Question("How large is one, over all its shelves?", usual.area, partial(new.an_area, house)),
        ]
        self._ask(f"{kind.capitalize()} pits", questions, lambda told: self._added(PitKind(kind), *told))

    def _added(self, kind: PitKind, many: int, area: str) -> None:
        house = self._house
        for _ in range(many):
            house = replace(house, pits=(*house.pits, replace(new.usual_pit(house, kind), area=area)))
        self.keep(house)
        self._screen.panel.choose(str(len(house.pits) - 1))

    def _change_pit(self, at: int) -> None:
        house, pit = self._house, self._house.pits[at]
        others = [each.name for i, each in enumerate(house.pits) if i != at]
        questions = [
            Question("What does the crew call it?", pit.name, partial(unused, others)),
            Question("How large is it, over all its shelves?", pit.area, partial(new.an_area, house)),
        ]

        def changed(told: Sequence[Any]) -> None:
            pits = (*house.pits[:at], NewPit(told[0], pit.kind, told[1]), *house.pits[at + 1 :])
            self.keep(replace(house, pits=pits))

        self._ask(f"{pit.name}, {pit.kind.value}", questions, changed)

    def _tick(self, cut: str) -> None:
        house = self._house
        kept = [dish for dish in house.dishes if dish.cut != cut]
        if len(kept) == len(house.dishes):
            names = [dish.name for dish in kept]
            usual = new.usual_dish(house, cut)
            kept.append(replace(usual, name=new.free_name(usual.name, names)))
        self.keep(replace(house, dishes=in_order(kept)))

    def _change_dish(self, cut: str) -> None:
        house = self._house
        dish = next((each for each in house.dishes if each.cut == cut), new.usual_dish(house, cut))
        others = [each.name for each in house.dishes if each.cut != cut]
        piece = Question(
            "What does a usual raw piece weigh?", new.piece_of(house, dish), partial(new.a_piece, house)
        )
        name = Question("What do guests call it?", dish.name, partial(unused, others))

        def changed(told: Sequence[Any]) -> None:
            weight = dish.piece if told[1] == new.piece_of(house, dish) else told[1]
            self._portion(replace(dish, name=told[0], piece=weight))

        self._ask(dish.name, [name, piece], changed)

    def _portion(self, dish: Dish) -> None:
        house = self._house
        if dish.portion:
            read: Callable[[str], object] = partial(new.a_portion, house, dish)
            question = Question("How much served meat is a portion?", dish.portion, read)
        else:
            question = Question("How many portions does a piece give?", str(dish.portions_a_piece), a_count)

        def changed(told: Sequence[Any]) -> None:
            sized = (
                replace(dish, portion=told[0]) if dish.portion else replace(dish, portions_a_piece=told[0])
            )
            kept = [each for each in self._house.dishes if each.cut != dish.cut]
            self.keep(replace(self._house, dishes=in_order([*kept, sized])))

        self._ask(dish.name, [question], changed)

    def _change_times(self, at: int | None) -> None:
        house, is_crew = self._house, self._page == CREW
        field, thing = ("shifts", "shift") if is_crew else ("services", "service")
        listed: tuple[Times, ...] = getattr(house, field)
        others = [each.name for i, each in enumerate(listed) if i != at]
        usual = Times(new.free_name(thing, others), "12:00", "3 h", listed[-1].days if listed else new.DAYS)
        now = usual if at is None else listed[at]
        questions = [
            Question(f"What is the {thing} called?", now.name, partial(unused, others)),
            Question(
                "When does it begin?" if is_crew else "When must all be ready?",
                new.clock_said(house, now.at),
                new.a_time_of_day,
            ),
            Question("How long does it last?", now.lasts, new.a_length_of_time),
            Question(
                "On which days? Such as: fri sat sun, tue-sun, every day",
                new.days_said(now.days),
                new.some_days,
            ),
        ]
        if is_crew:
            who = Question("Who works it? Names, with commas between", ", ".join(now.people), new.some_names)
            questions.insert(0, who)

        def changed(told: Sequence[Any]) -> None:
            people, rest = (told[0], told[1:]) if is_crew else ((), told)
            name, opens, lasts, days = rest
            each = Times(name, opens, lasts, days, people)
            place = len(listed) if at is None else at
            changes: dict[str, Any] = {field: (*listed[:place], each, *listed[place + 1 :])}
            self.keep(replace(self._house, **changes))
            self._screen.panel.choose(self.first_line() if is_crew else str(place))

        self._ask(now.name.capitalize(), questions, changed)

    def _write(self) -> None:
        try:
            writable(Path(self._screen.founding.standing.folder))
            self._screen.founding.write()
        except BoardError as error:
            self._screen.show(str(error))

    def _ask(
        self,
        heading: str,
        questions: Sequence[Question],
        then: Callable[[Sequence[Any]], None],
        told: Sequence[Any] = (),
    ) -> None:
        """Ask one line after another; Esc leaves everything as it was."""
        question, *more = questions

        def answered(typed: str | None) -> None:
            if typed is None:
                return
            answers = (*told, question.read(typed))
            if more:
                self._ask(heading, more, then, answers)
            else:
                then(answers)

        self._screen.app.push_screen(
            Ask(heading, question.says, question.answer, check=question.read, enter="takes it"), answered
        )

    def _pick(
        self, heading: str, choices: list[Choice], then: Callable[[str], None], chosen: str = ""
    ) -> None:
        def picked(key: str | None) -> None:
            if key:
                then(key)

        self._screen.app.push_screen(Pick(heading, choices, chosen), picked)


def a_count(typed: str) -> int:
    """A small whole number; raises HouseFileError."""
    if not typed.strip().isdecimal() or not 1 <= int(typed) <= new.MOST_PITS:
        raise HouseFileError(f"found {typed.strip()!r}: a whole number from 1 to {new.MOST_PITS}, such as 2")
    return int(typed)


def unused(others: Sequence[str], typed: str) -> str:
    """A name that no other has; raises HouseFileError."""
    name = new.a_name(typed)
    if name.casefold() in {other.casefold() for other in others}:
        raise HouseFileError(f"{name} is there already; another name, such as {new.free_name(name, others)}")
    return name


def in_order(dishes: Sequence[Dish]) -> tuple[Dish, ...]:
    """Dishes in the order their cuts are offered in."""
    return tuple(sorted(dishes, key=lambda dish: new.cuts_offered().index(dish.cut)))
