"""The `board` command: finds the subcommand, and turns every failure into one line and an exit code."""

import errno
import io
import os
import sys
from collections.abc import Sequence
from contextlib import suppress
from enum import IntEnum
from importlib import import_module

import click

from board import __version__
from board.commands.options import screen_options
from board.commands.outlet import harmless_outlets
from board.errors import BoardError

# name: one line of help. The module board.commands.<name> is imported only when the command runs,
# so that `board --help` loads neither the screen nor the sums.
COMMANDS = {
    "demo": "Open the invented house, in a ledger of its own, with a clock that can be set.",
    "plan": "Plan all services of a day, the night before included.",
    "cook": "How long one cook takes.",
    "batch": "Scale a brine, cure, rub or glaze to the meat.",
    "safe": "What a record of temperatures proves.",
    "house": "Start a house's files, or check them.",
    "show": "Print a view as plain text.",
    "remedies": "What would help a load that is late or early.",
    "record": "Print the record of some days for an inspector.",
    "pin": "Set the PIN that a person signs with.",
    "labels": "Print the labels of batches.",
    "list": "What to buy and what to pull out, over some days.",
    "mark": "Record a step without opening the board.",
    "watch": "Watch food as it cools, reheats, thaws or is held; check a probe.",
    "reading": "Record a temperature without opening the board.",
    "clock": "Where this machine's clock was set, whose times are doubtful, and how to put them right.",
    "backup": "Make a backup of the ledger now, or list those there are.",
    "doctor": "Look whether the ledger is sound, and mend it.",
    "restore": "Put a backup in the ledger's place, keeping what stood there.",
    "feed": "Take in what probes send: a pipe, a growing CSV file, a broker.",
    "serve": "Show the same board in a browser, let in by a passphrase.",
    "keys": "List every act with its keys, and check those that were changed.",
}

LONGEST_LINE = 1000
_TO_DO = {
    errno.EACCES: "allow reading and writing it",
    errno.EPERM: "allow reading and writing it",
    errno.EROFS: "name a place that can be written",
    errno.ENOSPC: "free some space",
    errno.EDQUOT: "free some space",
    errno.ENAMETOOLONG: "name it shorter",
}


class Exit(IntEnum):
    """Exit codes that scripts may rely on."""

    DONE = 0
    BAD_NEWS = 1
    BAD_INPUT = 2
    INTERRUPTED = 130


class LazyGroup(click.Group):
    """A command group that imports a subcommand only to run it or to show its own help."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The commands in the order they are met in the job."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import the command's module and return its `command`."""
        if cmd_name not in COMMANDS:
            return None
        found = import_module(f"board.commands.{cmd_name}").command
        assert isinstance(found, click.Command)
        return found

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """List the commands from the table above, without importing them."""
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))


@click.command(
    cls=LazyGroup, invoke_without_command=True, context_settings={"help_option_names": ["-h", "--help"]}
)
@click.version_option(__version__, prog_name="board")
@screen_options
@click.pass_context
def root(ctx: click.Context, /, **_: object) -> None:
    """Open the shift board of this house, or run one command.

    Without a command: the board on the ledger of the house in this folder; where there is none, how
    to start one or see the demo.
    """
    if ctx.invoked_subcommand is None:
        import_module("board.commands.open_board").open_board()


def main(arguments: Sequence[str] | None = None) -> None:
    """Run a command line and leave with its exit code; never a traceback for what a person typed.

    Whatever this process writes, only its owner may read.
    """
    os.umask(0o077)
    try:
        code = run(arguments)
    except Exception as error:
        code = _failed(error)
    sys.exit(code)


def run(arguments: Sequence[str] | None = None) -> int:
    """Run a command line and return its exit code; nothing it prints is obeyed by a terminal."""
    as_json = "--json" in (sys.argv[1:] if arguments is None else arguments)
    _print_what_there_is(as_json=as_json)
    with harmless_outlets(as_json=as_json):
        return _run(arguments)


def _run(arguments: Sequence[str] | None) -> int:
    try:
        result = root.main(args=arguments, prog_name="board", standalone_mode=False)
    except (click.exceptions.Abort, KeyboardInterrupt):
        return Exit.INTERRUPTED
    except click.ClickException as error:
        _say(error.format_message())
        return Exit.BAD_INPUT
    except SystemExit:  # how click leaves when whoever read the output has seen enough, as in `| head -1`
        return Exit.DONE
    except BoardError as error:
        _say(str(error))
        return Exit.BAD_INPUT
    except (OSError, MemoryError) as error:  # a full disk, a name too long, a folder taken away
        _say(_of_system(error))
        return Exit.BAD_INPUT
    return result if isinstance(result, int) else Exit.DONE


def _failed(error: Exception) -> int:
    """Tell a fault of the program, with nothing that a terminal would obey."""
    from board.views import fault  # noqa: PLC0415 - hardly ever needed

    with suppress(OSError):
        click.echo(fault.told(error), err=True)
    return fault.CODE


def _print_what_there_is(*, as_json: bool) -> None:
    """Let no terminal's character set end a command: what it lacks becomes `?`; JSON is always UTF-8.

    RFC 8259, section 8.1, asks UTF-8 of JSON that other programs read.
    """
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8" if as_json else None, errors="replace")


def _of_system(error: OSError | MemoryError) -> str:
    """What the system could not do, and with what."""
    if isinstance(error, MemoryError):
        return "there is no memory left for it; end other programs, or ask for less"
    if isinstance(error, FileNotFoundError) and not error.filename:
        return "the folder you are in was taken away; go to another one"
    where = f"{error.filename}: " if error.filename else ""
    todo = _TO_DO.get(error.errno or 0)
    return where + (error.strerror or str(error)) + (f"; {todo}" if todo else "")


def _say(message: str) -> None:
    """Say what is wrong in one line; where nobody can be told, the exit code still says it."""
    with suppress(OSError):
        click.echo(f"board: {_one_line(message)}", err=True)


def _one_line(message: str) -> str:
    """The message on a single line, not endless, with nothing a terminal would obey."""
    line = " ".join("".join(c if c.isprintable() else " " for c in message).split())
    half = LONGEST_LINE // 2
    return line if len(line) <= LONGEST_LINE else f"{line[:half]} … {line[-half:]}"
