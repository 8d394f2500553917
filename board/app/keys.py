"""What can be done, as data: each action's name, keys and meaning, for bindings, help and tests alike."""

from collections.abc import Mapping
from dataclasses import dataclass

from textual.binding import Binding, BindingType
from textual.keys import _character_to_key


@dataclass(frozen=True, slots=True)
class Act:
    """One thing a key does: an id a house can rebind, its keys, a word for the foot, a sentence for help.

    An id belongs to one act wherever that act stands. `moves` is what only moves about: help lists it apart.
    """

    id: str
    keys: str
    action: str
    word: str
    tip: str
    foot: bool = False
    moves: bool = False

    @property
    def shown_key(self) -> str:
        """The first key, as people call it."""
        return called(self.keys.split(",")[0])

    @property
    def shown_keys(self) -> str:
        """All its keys, as people call them."""
        return " ".join(called(key) for key in self.keys.split(","))


def called(key: str) -> str:
    """A key as people call it: `?` for question_mark, `Ctrl+P` for ctrl+p."""
    if key in CALLED or len(key) == 1:
        return CALLED.get(key, key)
    return "+".join(part.capitalize() for part in key.split("+"))


def named(character: str) -> str:
    """The key that types a character, as the terminal names it."""
    return _character_to_key(character)


CALLED = {
    "enter": "Enter",
    "question_mark": "?",
    "slash": "/",
    "left_square_bracket": "[",
    "right_square_bracket": "]",
    "plus": "+",
    "minus": "-",
    "up": "↑",
    "down": "↓",
    "left": "←",
    "right": "→",
    "space": "Space",
    "tab": "Tab",
    "escape": "Esc",
    "home": "Home",
    "end": "End",
    "pageup": "PgUp",
    "pagedown": "PgDn",
    "colon": ":",
    "comma": ",",
    "full_stop": ".",
    "less_than_sign": "<",
    "greater_than_sign": ">",
    "equals_sign": "=",
    "insert": "Ins",
    "delete": "Del",
}

EVERYWHERE = (
    Act(
        "view-opening",
        "1",
        "view('opening')",
        "Opening",
        "What happened, what to do next, how each load stands.",
        moves=True,
    ),
    Act("view-tomorrow", "2", "view('tomorrow')", "Tomorrow", "A day's plan on the timeline.", moves=True),
    Act(
        "view-service",
        "3",
        "view('service')",
        "Service",
        "Portions ready, coming, sold and left.",
        moves=True,
    ),
    Act("view-batches", "4", "view('batches')", "Batches", "Brines, cures, rubs and glazes.", moves=True),
    Act("view-record", "5", "view('record')", "Record", "Everything recorded, newest first.", moves=True),
    Act(
        "view-wall",
        "0",
        "view('wall')",
        "wall",
        "Large letters to read from far off: what to do next, or the service that runs.",
        moves=True,
    ),
    Act(
        "temperature",
        "t",
        "temperature",
        "temperature",
        "Enter a temperature of a load, a pit or a hold.",
        True,
    ),
    Act("alarms", "a", "alarms", "alarms", "What wants somebody now: see to it, answer it, or put it off."),
    Act(
        "temperatures",
        "T",
        "temperatures",
        "many",
        "Enter the temperatures of all that cooks and all that is kept, one after the other.",
    ),
    Act(
        "time-right",
        "y",
        "time_right",
        "put time right",
        "Say when the last thing you entered truly happened; the record keeps both times.",
    ),
    Act("note", "n", "note", "note", "Write a note for those who come after.", True),
    Act("undo", "u", "undo", "undo", "Take back the last thing you recorded; the record keeps both.", True),
    Act("who", "w", "who", "who am I", "Say who you are; every entry carries it."),
    Act("find", "slash", "find", "find", "Find a load, a batch, a lot, a person, or anything ever recorded."),
    Act("where-from", "i", "where_from", "where from", "Where each figure of the chosen line comes from."),
    Act(
        "palette",
        "colon,ctrl+p",
        "palette",
        "more",
        "Everything that can be done here and now, by name.",
        True,
    ),
    Act("theme", "f2", "theme", "colours", "Go round the themes: dark, light, the terminal's own colours."),
    Act("settings", "f4", "settings", "settings", "Theme, glyphs, motion, bell; where all is kept."),
    Act("help", "question_mark,f1", "help", "help", "The keys of this view, first steps, and words.", True),
    Act("quit", "q", "quit", "quit", "Leave the board; everything entered is kept."),
)
LOAD_PAGE = Act(
    "load-page",
    "v",
    "load_page",
    "view load",
    "See the chosen load: its core over the hours, its readings, why it takes so long.",
    True,
)
REMEDIES = Act(
    "remedies",
    "r",
    "remedies",
    "remedies",
    "What would help the chosen load: each remedy with its time, its chance and its cost.",
    True,
)
MANY = Act(
    "many",
    "m",
    "many",
    "mark many",
    "Tick steps that are due or come next and mark them all at once, now or at a time before.",
    True,
)
COOL = Act("cool", "c", "cool", "cool", "Begin to cool what is left of the chosen load.")
OPENING = (
    Act(
        "opening-likely",
        "enter",
        "likely",
        "done",
        "Mark the chosen step done; see the chosen load by itself, where Enter marks its next step.",
        True,
    ),
    MANY,
    Act(
        "mine",
        "f",
        "mine",
        "mine or all",
        "Do next: yours, nobody's and what is overdue, or everyone's.",
        True,
    ),
    REMEDIES,
    LOAD_PAGE,
    Act(
        "handover",
        "h",
        "handover",
        "handover",
        "Read what the next shift will, add what they must know, and sign.",
        True,
    ),
    COOL,
)
TOMORROW = (
    LOAD_PAGE,
    Act("plan", "g", "plan", "plan", "Plan this day; the first plan shows at once and gets better.", True),
    Act("stop", "s", "stop", "stop", "Stop planning this day and take the best plan so far."),
    Act(
        "commit", "c", "commit", "commit", "Make the draft the plan that is cooked from, with a reason.", True
    ),
    Act(
        "move",
        "m",
        "move",
        "move",
        "Try the chosen load on another pit or at another time, and pin it there.",
        True,
    ),
    Act(
        "split",
        "x",
        "split",
        "split",
        "Try some pieces of the chosen load as a load of their own, and have the next plan do it.",
    ),
    Act(
        "join",
        "j",
        "join",
        "join",
        "Try the chosen load as one with another of its cut, and have the next plan do it.",
    ),
    Act(
        "cures",
        "r",
        "cures",
        "what is short",
        "What the plan is short of and what would cure it; Enter tries a cure and plans again.",
    ),
    Act("pin", "k", "pin", "pin or let go", "Pin the chosen load where it is, or let a pinned one go.", True),
    Act("changes", "d", "changes", "differences", "Show what the draft changes of the committed plan.", True),
    Act("plan-afresh", "G", "plan_afresh", "plan afresh", "Plan this day without keeping what is committed."),
    Act("promises", "p", "promises", "promises", "Show what is promised; Enter changes a number.", True),
    Act("loads", "l", "loads", "loads", "Show all loads in a list.", True),
    Act(
        "account",
        "escape",
        "account",
        "account",
        "Show the chosen load's steps and why it is loaded when it is.",
    ),
    Act(
        "tomorrow-likely",
        "enter",
        "likely",
        "view load",
        "See the chosen load by itself, or change the chosen promise.",
        True,
    ),
    Act(
        "tomorrow-day-before",
        "left_square_bracket",
        "day(-1)",
        "day before",
        "Go to the day before.",
        moves=True,
    ),
    Act(
        "tomorrow-day-after",
        "right_square_bracket",
        "day(1)",
        "day after",
        "Go to the day after.",
        moves=True,
    ),
    Act("earlier", "left", "pan(-1)", "earlier", "Move the hours.", moves=True),
    Act("later", "right", "pan(1)", "later", "Move the hours.", moves=True),
    Act("closer", "plus,equals_sign", "zoom(-1)", "closer", "Fewer hours, drawn wider.", moves=True),
    Act("wider", "minus", "zoom(1)", "wider", "More hours, drawn narrower.", moves=True),
)
SERVICE = (
    Act(
        "service-likely",
        "enter",
        "likely",
        "view load",
        "See the chosen item's load, where Enter marks its next step; hand over the chosen order.",
        True,
    ),
    Act("sell", "s", "sell", "sell", "Record portions sold.", True),
    Act("bulk", "b", "bulk", "bulk", "Type what was sold of each item, one after another.", True),
    MANY,
    REMEDIES,
    LOAD_PAGE,
    Act("sell-one", "space", "sell_one", "sell one", "Record one portion sold.", True),
    Act("close", "x", "close", "close", "What is left, to be cooled, thrown away or held on."),
    Act("sold-out", "o", "sold_out", "sold out", "Mark the chosen item sold out, or take that back.", True),
    COOL,
)
BATCHES = (
    Act(
        "batches-likely",
        "enter",
        "likely",
        "weigh or use",
        "Weigh the chosen batch line by line until it is made; mark one that is made used.",
        True,
    ),
    LOAD_PAGE,
    Act("discard", "x", "discard", "discard", "Mark the chosen batch discarded, with the reason.", True),
    Act(
        "labels",
        "p",
        "labels",
        "print label",
        "Write the chosen batch's label as a PDF beside the ledger.",
        True,
    ),
    Act("lists", "l", "lists", "lists", "What to buy and what to pull out, over some days.", True),
    Act("batches-kind", "f", "filter", "show only", "Show what is to make, made, gone, or all that matters."),
)
RECORD = (
    Act(
        "record-likely",
        "enter",
        "likely",
        "look",
        "See the chosen line by itself; open what is told together; on a day, that day only.",
        True,
    ),
    Act(
        "record-kind",
        "k",
        "kind",
        "show only",
        "Show the next part: temperatures, cooked, holding and so on.",
        True,
    ),
    Act(
        "record-filter", "f", "filter", "filter", "Type words that the lines must have; Esc shows all.", True
    ),
    Act("record-all", "escape", "unfilter", "all lines", "Show all lines again.", moves=True),
    Act(
        "correct",
        "c",
        "correct",
        "put right",
        "Say what is right, the old value stays beside it; of a probe that sends, what does not count.",
        True,
    ),
    Act("record-done", "d", "done", "what was done", "Say what was done about the chosen line.", True),
    Act("begin", "b", "begin", "begin a watch", "Watch food as it cools, reheats, thaws, or is held.", True),
    Act("end", "e", "end", "end a watch", "Say that a watch is over: done, used or discarded."),
    Act("probe", "p", "probe", "check a probe", "Record what a probe read in ice or boiling water."),
    Act(
        "sign",
        "s",
        "sign",
        "sign",
        "Sign the record of the day that is shown, or of today, after a look at what is signed.",
    ),
    Act("print", "x", "print", "print", "Write that day's print-out as a PDF beside the ledger."),
    Act(
        "record-day-before",
        "left_square_bracket",
        "day(-1)",
        "day before",
        "Show the day before only.",
        moves=True,
    ),
    Act(
        "record-day-after",
        "right_square_bracket",
        "day(1)",
        "day after",
        "Show the day after; after today, all.",
        moves=True,
    ),
)
LOAD = (
    Act("back", "escape", "back", "back", "Back to the view one came from.", True),
    Act("load-turn", "tab", "turn(1)", "next list", "Turn to the next list: this load, steps, record, why."),
    Act("load-turn-back", "shift+tab", "turn(-1)", "list before", "Turn to the list before."),
    Act("load-likely", "enter", "likely", "next step", "Mark this load's next step.", True),
    REMEDIES,
    Act(
        "load-probe",
        "p",
        "probe",
        "probe in",
        "Say which probe was put into this load or taken out, or which of its readings do not count.",
    ),
    Act(
        "load-before", "left", "other(-1)", "load before", "See the load before, by loading time.", moves=True
    ),
    Act("load-after", "right", "other(1)", "load after", "See the load after, by loading time.", moves=True),
    COOL,
)
WALL = (Act("wall-back", "escape", "back", "back", "Back to the Opening view.", True),)
LIST = (
    Act("up", "up", "cursor(-1)", "up", "Choose the line above.", moves=True),
    Act("down", "down", "cursor(1)", "down", "Choose the line below.", moves=True),
    Act(
        "page-up",
        "pageup",
        "cursor(-10)",
        "page up",
        "Ten lines up; in Batches back in the card.",
        moves=True,
    ),
    Act(
        "page-down",
        "pagedown",
        "cursor(10)",
        "page down",
        "Ten lines down; in Batches on in the card.",
        moves=True,
    ),
    Act("first", "home", "cursor(-100000)", "first", "Choose the first line.", moves=True),
    Act("last", "end", "cursor(100000)", "last", "Choose the last line.", moves=True),
)
TIMELINE = (
    Act("up", "up", "cursor(-1)", "up", "Choose the load before, on its pit or the one above.", moves=True),
    Act(
        "down", "down", "cursor(1)", "down", "Choose the load after, on its pit or the one below.", moves=True
    ),
    Act("pit-below", "tab", "pit(1)", "next pit", "Choose the first load of the next pit.", moves=True),
    Act(
        "pit-above",
        "shift+tab",
        "pit(-1)",
        "pit before",
        "Choose the first load of the pit before.",
        moves=True,
    ),
    Act("fit", "home", "fit", "whole day", "Draw the whole day.", moves=True),
    Act(
        "read-back",
        "pageup",
        "read_on(-1)",
        "read back",
        "Read back in what is told of the load.",
        moves=True,
    ),
    Act("read-on", "pagedown", "read_on(1)", "read on", "Read on in what is told of the load.", moves=True),
)


SCOPES: Mapping[str, tuple[Act, ...]] = {
    "everywhere": EVERYWHERE,
    "opening": OPENING,
    "tomorrow": TOMORROW,
    "service": SERVICE,
    "batches": BATCHES,
    "record": RECORD,
    "load": LOAD,
    "wall": WALL,
    "list": LIST,
}
SHARED = ("everywhere", "list")  # their keys work in every view, so no view's own may be the same


def bindings(acts: tuple[Act, ...]) -> list[BindingType]:
    """The acts as Textual bindings."""
    return [
        Binding(act.keys, act.action, act.word, id=act.id, tooltip=act.tip, show=act.foot) for act in acts
    ]
