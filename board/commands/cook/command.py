"""The options of `board cook`, and the sums run for them."""

import json
from pathlib import Path
from time import perf_counter
from typing import Any

import click

from board import __version__


@click.command("cook")
@click.argument("cut", metavar="CUT")
@click.option(
    "--weight", metavar="MASS", help="One raw piece, such as 14 lb; the cut's usual weight if left out."
)
@click.option("--count", default=1, show_default=True, help="Pieces cooked together: the slowest decides.")
@click.option(
    "--pit", default="offset", show_default=True, metavar="KIND", help="A kind of pit, or a pit of HOUSE."
)
@click.option("--at", "at", metavar="SETPOINT", help="Pit air, such as 245 F; the cut's usual if left out.")
@click.option(
    "--until",
    multiple=True,
    metavar="CORE",
    help="Core to pull at, such as 203 F, or the word tender; given twice, whichever comes last; "
    "the cut's usual end if left out.",
)
@click.option("--from", "start", metavar="CORE", help="Core when loaded, such as 4 C.")
@click.option("--wrap", type=click.Choice(["paper", "foil"]), help="Wrap on the pit.")
@click.option("--wrap-at", metavar="CORE", help="Core to wrap at, such as 160 F.")
@click.option("--rest", metavar="TIME", help="Rest after the pull, such as 1 h; half an hour if left out.")
@click.option(
    "--rest-in",
    type=click.Choice(["room", "cooler", "hold"]),
    default="room",
    show_default=True,
    help="Where.",
)
@click.option("--hold-at", metavar="AIR", help="Air of the hold, such as 145 F; a usual hold's if left out.")
@click.option("--hold-humidity", metavar="SHARE", help="Relative humidity of the hold, such as 60%.")
@click.option(
    "--reading", "readings", multiple=True, metavar="TIME=CORE", help='Such as "2h40=61 C"; repeatable.'
)
@click.option(
    "--air", multiple=True, metavar="TIME=AIR", help='The pit as read, such as "2h=108 C"; repeatable.'
)
@click.option(
    "--set",
    "settings",
    multiple=True,
    metavar="TIME=SETPOINT",
    help='A setpoint changed on the way, such as "5h=121 C"; repeatable.',
)
@click.option(
    "--opened", multiple=True, metavar="TIME", help="When the pit stood open, such as 3h10; repeatable."
)
@click.option("--house", "folder", type=click.Path(path_type=Path), help="Folder of house files.")
@click.option("--members", default=200, show_default=True, help="Bodies in the ensemble.")
@click.option(
    "--seed",
    type=click.IntRange(0, 2**31 - 1),
    default=0,
    show_default=True,
    help="Same seed, same answer.",
)
@click.option("--why", is_flag=True, help="Account for the number: time, heat, what each thing is worth.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON document and nothing else.")
def command(*, as_json: bool, **asked: Any) -> None:
    """How long CUT takes: its likely range, its stall, its loss and its core after the pull."""
    from board.commands.cook.answer import answer  # noqa: PLC0415 - help needs no sums
    from board.commands.cook.asked import Question  # noqa: PLC0415

    began = perf_counter()
    found = answer(Question(**asked))
    if as_json:
        run = {"seconds": round(perf_counter() - began, 3), "version": __version__}
        click.echo(json.dumps(found.document | {"run": run}, ensure_ascii=False, indent=2))
    else:
        click.echo(found.text)
