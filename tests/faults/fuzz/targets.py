"""Where spoilt input is fed in: every reader of what a person, a spreadsheet or a logger hands the board."""

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from board.app import typed as app_typed
from board.app.keymap import Keymap, read_keys
from board.app.settings_file import read_settings
from board.batches.refused import refused_recipes
from board.commands.demo import HOUSE
from board.commands.plan_again import plan_from
from board.errors import BoardError
from board.house import founding, units
from board.house.csv_file import told_mark
from board.house.fault_lines import with_line
from board.house.files import read_house
from board.house.folder import NEEDED, OPTIONAL
from board.house.model import Display
from board.house.probes import named_by
from board.house.seeds import seed_house
from board.house.starter import write_starter
from board.house.time_typed import time_of_day
from board.house.years import day_meant
from board.ledger.when import moment_ago, moment_meant
from board.planning.doubts import every_doubt
from board.probes.columns import columns_of, is_heading, told_by
from board.probes.known import check_time, sent
from board.probes.message import read_message
from board.probes.refused import BadMessageError
from board.safety.cooling import cooled
from board.safety.read_log import read_log
from board.views.facts import Facts
from board.views.lists import lists
from tests.faults.fuzz.spoiling import Spoiler
from tests.faults.fuzz.typing_commands import Commands

DAY = date(2026, 12, 19)
NOW = datetime(2026, 12, 19, 12, 40, tzinfo=UTC)
ZONES = ("America/Denver", "Europe/London", "Pacific/Apia", "Australia/Lord_Howe")
POUNDS = Display("lb", "degF", "gal", 12)
CHECKED = 8  # of so many houses that can be read one is gone over as `board house check` does
QUANTITIES = (
    *(
        "14 lb",
        "6.4 kg",
        "2 lb 6 oz",
        "225 F",
        "107 °C",
        "90 min",
        "1 h 30",
        "2h40",
        "20 sq ft",
        "24 x 36 in",
    ),
    *(
        "2 qt",
        "8 %",
        "0.35 / kg",
        "9 lb/h",
        "217 g/cup",
        "60 g/m2",
        "0.6 L/kg",
        "12 cm",
        "5 days",
        "1 1/2 lb",
    ),
)
TIMES = (
    *(
        "11:30",
        "1130",
        "17.30",
        "5 pm",
        "10",
        "10 min",
        "1 h 10",
        "2026-12-09 04:30",
        "2026-12-09T04:30-07:00",
    ),
    *("today", "tomorrow", "2026-12-19", "Tue, Thu", "every day", "weekdays"),
)
LOGS = (
    "time,core_c\n0,4\n90,55\n120,60\n132,60\n150,50\n",
    "time;hold_f\n2026-12-19T10:00;140,5\n2026-12-19T11:00;139\n",
    '\ufefftimestamp\tcore (°C)\tnote\n2026-12-19T10:00-07:00\t4\t"a\nb"\n2026-12-19T12:00-07:00\t60\t\n',
)
MESSAGES = (
    '{"probe": "north-grate", "temperature": 225, "unit": "F", "time": "2026-12-19T12:30:00Z"}',
    '[{"sensor": "meat-1", "core_c": 61.5, "ts": 1797683400}, {"id": "meat-2", "temp": "140 F"}]',
    "north-grate 225 F",
    "meat-1: 61.5 C 2026-12-19T12:30:00Z",
)
ROWS = (
    "time,probe,temperature_c\n2026-12-19T05:00,meat-1,61.5\n2026-12-19T05:01,meat-1,61.6\n",
    "date;time;temperature_f\n2026-12-19;05:00;142,5\n",
    "sep=;\ntimestamp;temp\n1797683400;61\n",
)
SETTINGS = ('theme = "dark"\nascii = true\nmotion = false\nbell = true\nwho = "Wren"\n[keys]\nundo = "f9"\n',)
KEYS = ('[keys]\nundo = "f9"\nplan = "p,ctrl+p"\nhelp = ","\nmark = ["x", "space"]\n',)


@dataclass(frozen=True)
class Target:
    """One way in: its name, how many of a hundred inputs it gets, and what feeds it one."""

    name: str
    share: float
    feed: Callable[[Spoiler], object]


def targets(scratch: Path) -> list[Target]:
    """Every way in, working in a folder of its own."""
    return [
        Target("quantities", 35, _quantity),
        Target("times and days", 20, _time),
        *_houses(scratch),
        Target("safe logs", 10, _Files(scratch / "log.csv", LOGS, _log)),
        Target("settings.toml", 2, _Files(scratch / "settings.toml", SETTINGS, _settings)),
        Target("keys.toml", 2, _Files(scratch / "keys.toml", KEYS, lambda path: _keys(path.parent))),
        Target("feed messages", 15, _Messages()),
        Target("feed rows", 7, _rows),
        Target("plan documents", 0.3, _plans(scratch)),
        Target("commands", 0.03, Commands(scratch)),
    ]


def borrowed() -> list[str]:
    """Texts whose words and lines turn up where they do not belong."""
    folder = seed_house(HOUSE)
    texts = [path.read_text(encoding="utf-8") for path in sorted(folder.iterdir()) if path.suffix != ".json"]
    return [*texts, *LOGS, *SETTINGS, *KEYS]


def _quantity(spoiler: Spoiler) -> object:
    text = spoiler.text(spoiler.one_of(QUANTITIES))
    for name, read in vars(units).items():
        if name.startswith("parse_"):
            _let(read, text)
    _let(units.amount_and_unit, text)
    for display in (POUNDS, Display()):
        _let(app_typed.temperature_c, text, display)
        _let(app_typed.mass_kg, text, display.mass)
    return text


def _time(spoiler: Spoiler) -> object:
    text = spoiler.text(spoiler.one_of(TIMES))
    zone = ZoneInfo(spoiler.one_of(ZONES))
    time_of_day(text)
    _let(moment_meant, text, zone, NOW)
    _let(moment_ago, text, zone, NOW)
    _let(day_meant, text, DAY)
    for read in (founding.a_length_of_time, founding.a_time_of_day, founding.some_days, founding.a_name):
        _let(read, text)
    return text


def _houses(scratch: Path) -> list[Target]:
    """Each file of three houses in turn, the rest as they are."""
    write_starter(scratch / "starter")
    found = []
    houses = ((seed_house("hatch"), 4.5), (scratch / "starter", 3.5), (seed_house(HOUSE), 1.5))
    for folder, share in houses:
        own = scratch / f"{folder.name}-spoilt"
        own.mkdir()
        names = [path.name for path in sorted(folder.iterdir()) if _is_read(path)]
        for name in names:
            (own / name).write_bytes((folder / name).read_bytes())
        found += [Target(f"{folder.name}/{name}", share / len(names), _House(own / name)) for name in names]
    return found


def _is_read(path: Path) -> bool:
    return path.name in (*NEEDED, *OPTIONAL)


class _Files:
    """Spoils the text of a file and has it read."""

    def __init__(self, path: Path, texts: Sequence[str], read: Callable[[Path], object]) -> None:
        self._path, self._texts, self._read = path, texts, read

    def __call__(self, spoiler: Spoiler) -> object:
        raw = spoiler.raw(spoiler.one_of(self._texts))
        self._path.write_bytes(raw)
        _let(self._read, self._path)
        return raw


class _House:
    """Spoils one file of a house and has the house read, and now and then checked; then puts it back."""

    def __init__(self, path: Path) -> None:
        self._path, self._sound = path, path.read_bytes()

    def __call__(self, spoiler: Spoiler) -> object:
        raw = spoiler.raw(self._sound.decode())
        self._path.write_bytes(raw)
        folder = self._path.parent
        try:
            house = read_house(folder)
            if spoiler.one_of(range(CHECKED)) == 0:
                every_doubt(house, DAY)
                refused_recipes(house, DAY)
        except BoardError as error:
            with_line(folder, _told(error))
        finally:
            self._path.write_bytes(self._sound)
        return raw


class _Messages:
    """What a probe may send: told, known and in time, or set aside with a reason."""

    def __init__(self) -> None:
        self._named = named_by(read_house(seed_house(HOUSE)).probes)

    def __call__(self, spoiler: Spoiler) -> object:
        """Take one in as a feed does, before anything is written."""
        raw = spoiler.raw(spoiler.one_of(MESSAGES))
        try:
            for told in read_message(raw, spoiler.one_of((None, "meat-1"))):
                check_time(sent(told, self._named, ZoneInfo(spoiler.one_of(ZONES)), NOW).at, NOW)
        except BadMessageError as error:
            _told(error)
        return raw


def _rows(spoiler: Spoiler) -> object:
    """A logger's rows, its heading spoilt or one of them."""
    heading, *rows = spoiler.text(spoiler.one_of(ROWS)).split("\n")
    try:
        columns = columns_of(heading, {}, "meat-1", told_mark(heading))
        for row in rows[:3]:
            if not is_heading(row, columns):
                list(told_by(row, columns))
    except BadMessageError as error:
        _told(error)
    return rows


def _log(path: Path) -> None:
    cooled(read_log(path, None, ZoneInfo("America/Denver")))


def _settings(path: Path) -> None:
    for fault in read_settings(path).faults:
        assert fault


def _keys(folder: Path) -> None:
    keys, faults = read_keys(folder)
    Keymap.of(keys, faults)


def _plans(scratch: Path) -> _Files:
    """A small plan as `board plan --json` prints it, read for `board list`."""
    folder = seed_house(HOUSE)
    house = read_house(folder)
    whole = json.loads((folder / "plan-2026-12-20.json").read_text(encoding="utf-8"))

    def read(path: Path) -> None:
        plan = plan_from(path, "--plan", house)
        lists(Facts(house, NOW, {plan.day: plan}), DAY, DAY)

    return _Files(scratch / "plan.json", [json.dumps(whole, indent=1, ensure_ascii=False)], read)


def _let(read: Callable[..., object], *given: object) -> None:
    """Let it read or refuse."""
    try:
        read(*given)
    except BoardError as error:
        _told(error)


def _told(error: BoardError) -> str:
    said = str(error)
    assert said.strip(), "refused without a word"
    return said
