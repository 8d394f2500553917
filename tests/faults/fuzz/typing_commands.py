"""Commands typed with drawn arguments, in this process: one line and 2, or an answer; never a traceback."""

import io
import os
import shutil
import sqlite3
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import UTC, datetime, tzinfo
from pathlib import Path
from unittest.mock import patch

import click

from board.cli import COMMANDS, Exit, root, run
from board.commands import recording
from board.commands.demo import HOUSE, demo_ledger
from board.house.files import read_house
from board.house.seeds import seed_house
from board.house.starter import write_starter
from tests.faults.fuzz.spoiling import Spoiler

NOW = datetime(2026, 12, 19, 12, 40, tzinfo=UTC)  # as the demo opens
LEFT_OUT = {"demo", "pin", "serve"}  # a screen, a question at the terminal, pages until it is stopped
NO_END = {"--follow", "--mqtt", "--help", "--version"}
_ON = ("--ledger", "demo.db", "--at", "2026-12-19T05:40")
_BY = ("--ledger", "demo.db", "--who", "Wren")
SOUND = (
    ("plan", "hatch", "--day", "2026-12-19", "--seconds", "0.2", "--json"),
    ("plan", "hatch", "--day", "2026-12-19", "--seconds", "0", "--now", "06:00", "--why"),
    ("cook", "brisket", "--weight", "14 lb", "--pit", "offset", "--at", "250 F", "--members", "8", "--json"),
    ("cook", "turkey-whole", "--house", "row", "--pit", "south", "--members", "8", "--wrap-at", "160 F"),
    ("cook", "brisket", "--reading", "2h40=61 C", "--air", "1 h=110 C", "--members", "8", "--why"),
    ("cook", "sausage", "--rest", "1 h", "--rest-in", "hold", "--hold-at", "63 C", "--members", "8"),
    ("batch", "bird-brine", "house", "--for", "14 lb", "--made-at", "2026-12-18T08:00", "--json"),
    ("batch", "bird-brine", "house", "--for", "14 lb", "--hours", "12 h", "--pickup", "8 %"),
    ("safe", "log.csv", "--food", "intact-roast", "--oven", "225 F", "--mass", "12 lb"),
    ("safe", "log.csv", "--cooling", "--house", "row", "--json"),
    ("safe", "log.csv", "--holding", "hot", "--part", "core", "--limits", "uk"),
    ("house", "check", "row", "--day", "2026-12-19", "--json"),
    ("house", "new", "new"),
    *(("show", view, "--day", "2026-12-19", *_ON) for view in ("opening", "tomorrow", "service")),
    *(("show", view, "--width", "80", *_ON) for view in ("batches", "record")),
    ("show", "load", "--load", "1219-brisket-1", *_ON),
    ("remedies", "1219-brisket-1", *_ON, "--json"),
    ("record", "--from", "2026-12-18", "--to", "2026-12-19", "--csv", "out.csv", "--pdf", "out.pdf", *_ON),
    ("record", "--from", "2026-12-18", "--json", "--sign", "Wren", *_ON),
    ("labels", "--day", "2026-12-19", "--copies", "2", "--paper", "a4", *_ON),
    ("labels", "--batch", "1219-beef-rub-1", "--out", "out.pdf", *_ON),
    ("list", "--from", "2026-12-19", "--to", "2026-12-21", "--csv", *_ON),
    ("list", "row", "--plan", "row/plan-2026-12-19.json", "--from", "2026-12-19", "--json"),
    ("mark", "wrapped", "1219-brisket-1", "--at", "05:30", *_BY),
    ("mark", "lit", "north", "--setpoint", "225 F", *_BY),
    ("mark", "moved", "1219-brisket-1", "--pit", "south", "--zone", "lower", *_BY),
    ("mark", "served", "1219-brisket-1", "--portions", "40", *_BY),
    ("mark", "made", "1219-beef-rub-1", "--lot", "G-1", *_BY, "--json"),
    ("watch", "begin", "cooling", "pulled pork, 2 pans", "--load", "1219-brisket-1", *_BY),
    ("watch", "begin", "thawing", "turkey", "--way", "water", *_BY),
    ("watch", "end", "1", "--as", "discarded", *_BY),
    ("watch", "list", "--ledger", "demo.db", "--json"),
    ("watch", "probe", "blue", "ice", "32 F", *_BY),
    ("reading", "walk-in", "3 C", "--at", "05:35", *_BY),
    ("reading", "1219-brisket-1", "162 F", *_BY, "--json"),
    ("keys", "--ledger", "demo.db"),
    ("feed", "--csv", "pit.csv", "--ledger", "demo.db"),
    ("feed", "--csv", "log.csv", "--probe", "meat-1", "--as", "kitchen", "--ledger", "demo.db"),
    ("feed", "--stdin", "--probe", "meat-1", "--ledger", "demo.db"),
    ("feed", "place", "meat-1", "1219-brisket-1", *_BY),
    ("feed", "status", "--ledger", "demo.db", "--json"),
    ("feed", "aside", "--ledger", "demo.db"),
    ("backup", "--to", "stick", "--ledger", "demo.db"),
    ("backup", "--list", "--ledger", "demo.db", "--json"),
    ("doctor", "--ledger", "demo.db", "--json"),
)
VALUES = {
    "seconds": ("0", "0.2", "nan", "-1", "1e400", "9999"),  # never one that makes all others wait
    "members": ("8", "0", "-1", "x", "1e9", "99999999999"),
}
LIKELY = ("12", "2 h", "61 C", "14 lb", "8 %", "brisket", "Wren", "2026-12-19", "05:30")


class _Then(datetime):
    """The clock of whoever types: it stands at the demo's moment."""

    @classmethod
    def now(cls, tz: tzinfo | None = None) -> datetime:
        return NOW.astimezone(tz)


class Commands:
    """Types a command with some of its options and arguments, sound or not."""

    def __init__(self, scratch: Path) -> None:
        self._place = scratch / "commands"
        self._place.mkdir()
        self._ledger = _demo(self._place)
        self._paths = _paths(self._place)
        self._options = [
            (words, option)
            for words, command in _all()
            if words[0] not in LEFT_OUT
            for option in command.params
            if isinstance(option, click.Option) and not NO_END & set(option.opts)
        ]
        self._sound = [*SOUND * 3, *(words for words, _ in _all() if words[0] not in LEFT_OUT)]

    def __call__(self, spoiler: Spoiler) -> object:
        """Type one, and hold what came of it to the manners of the commands."""
        typed = self._drawn(spoiler)
        before = self._entries()
        with _outputs(self._place) as (out, err), patch.object(recording, "datetime", _Then):
            code = run(typed)
        said, talk = (stream.buffer.getvalue().decode("utf-8", "replace") for stream in (out, err))
        assert code in set(Exit), f"code {code} of {typed}"
        if code == Exit.BAD_INPUT:
            assert talk.startswith("board: "), f"no word of {typed}"
            assert not said, f"data beside a refusal of {typed}"
            assert self._entries() == before, f"recorded though refused: {typed}"
        assert "\x1b" not in said + talk, f"escape codes of {typed}"
        return typed

    def _entries(self) -> int:
        with closing(sqlite3.connect(self._ledger)) as db:
            return int(db.execute("SELECT count(*) FROM entries").fetchone()[0])

    def _drawn(self, spoiler: Spoiler) -> list[str]:
        """A sound command line with something wrong, or an option more that may not go with it."""
        typed = list(spoiler.one_of(self._sound))
        for _ in range(spoiler.one_of((0, 1, 1, 1, 2))):
            at = spoiler.one_of(range(len(typed) > 1, len(typed)))
            typed[at] = self._spoilt(typed, at, spoiler)
        if spoiler.one_of((True, False)):
            typed += self._option(typed, spoiler)
        if spoiler.one_of(range(12)) == 0:
            del typed[spoiler.one_of(range(len(typed)))]
        return typed

    def _spoilt(self, typed: list[str], at: int, spoiler: Spoiler) -> str:
        """Another word; for a path one of those that are here, for it may be written to."""
        if typed[at] in self._paths:
            return spoiler.one_of(self._paths)
        name = typed[at - 1].removeprefix("--")
        if typed[at].startswith("--") or name in VALUES:
            return spoiler.one_of(VALUES.get(name, (typed[at],)))
        return spoiler.text(typed[at]).replace("\x00", "")[:2000]  # the system hands no NUL over

    def _option(self, typed: list[str], spoiler: Spoiler) -> list[str]:
        """Another option of the command, with a value of its kind or not."""
        options = [each for words, each in self._options if words == typed[: len(words)]]
        if not options:
            return []
        option = spoiler.one_of(options)
        name = spoiler.one_of([*option.opts, *option.secondary_opts])
        if option.is_flag:
            return [name]
        if isinstance(option.type, click.Path):
            return [name, spoiler.one_of(self._paths)]
        value = spoiler.one_of(VALUES.get(option.name or "", LIKELY))
        spoils = option.name not in VALUES and spoiler.one_of((True, False))
        return [name, spoiler.text(value).replace("\x00", "") if spoils else value]


def _all() -> Iterator[tuple[list[str], click.Command]]:
    """Every command with the words that lead to it."""
    context = click.Context(root)
    for name in COMMANDS:
        yield from _under([name], root.get_command(context, name))


def _under(words: list[str], command: click.Command | None) -> Iterator[tuple[list[str], click.Command]]:
    if isinstance(command, click.Group):
        context = click.Context(command)
        for name in command.list_commands(context):
            yield from _under([*words, name], command.get_command(context, name))
    elif command is not None:
        yield words, command


def _demo(place: Path) -> Path:
    path, folder = place / "demo.db", place / "row"
    shutil.copytree(seed_house(HOUSE), folder)
    demo_ledger(path, read_house(folder), folder, None)[0].close()
    return path


def _paths(place: Path) -> list[str]:
    """What a path may turn out to be; all of it in a folder of its own, for it may be written over."""
    write_starter(place / "house")
    (place / "log.csv").write_text("time,core_c\n0,4\n90,60\n120,70\n", encoding="utf-8")
    rows = "time,probe,temperature_f\n2026-11-19T05:00,meat-1,142\n2026-11-19T05:01,north-grate,250\n"
    (place / "pit.csv").write_text(rows, encoding="utf-8")
    (place / "stick").mkdir()
    (place / "empty").write_bytes(b"")
    (place / "bytes").write_bytes(bytes(range(256)))
    os.mkfifo(place / "pipe")
    (place / "ring").symlink_to("ring")
    (place / "text.db").write_text("no ledger at all\n" * 400, encoding="utf-8")
    shutil.copytree(seed_house("hatch"), place / "hatch")
    return [
        *("log.csv", "house", "row", "hatch", "demo.db", "row/plan-2026-12-19.json", "out.pdf", "out.csv"),
        *(
            "empty",
            "bytes",
            "pipe",
            "ring",
            "text.db",
            "gone/deep",
            "new",
            "x" * 300,
            ".",
            "",
            "odd\udce9.db",
        ),
        *("/dev/full", "/dev/null", "pit.csv", "stick"),
    ]


@contextmanager
def _outputs(place: Path) -> Iterator[tuple[io.TextIOWrapper, io.TextIOWrapper]]:
    """Outputs that take bytes as a terminal's do, an empty input, and a folder to be in."""
    streams = tuple(io.TextIOWrapper(io.BytesIO(), encoding="utf-8", write_through=True) for _ in range(2))
    before, was_in = (sys.stdin, sys.stdout, sys.stderr), Path.cwd()
    os.chdir(place)
    try:
        with Path(os.devnull).open(encoding="utf-8") as nothing:
            sys.stdin, (sys.stdout, sys.stderr) = nothing, streams
            yield streams
    finally:
        os.chdir(was_in)
        sys.stdin, sys.stdout, sys.stderr = before
