"""`board house`: start a house's files, or check them."""

import json
from datetime import UTC, datetime
from pathlib import Path

import click

from board.commands.outlet import say_done


@click.group("house", no_args_is_help=False)
def command() -> None:
    """Start a house's files, or check them."""


@command.command("new")
@click.argument("folder", metavar="DIR", type=click.Path(path_type=Path))
def new(folder: Path) -> int:
    """Write a commented starter house into DIR; overwrites nothing."""
    from board.house.starter import write_starter  # noqa: PLC0415

    written = write_starter(folder)
    say_done(f"Wrote {len(written)} files in {folder}: begin with {written[0]}.")
    click.echo(f"Then: board house check {folder}", err=True)
    return 0


@command.command("check")
@click.argument("folder", metavar="DIR", type=click.Path(path_type=Path))
@click.option(
    "--day",
    "day_text",
    metavar="DATE",
    default="today",
    help="Look at the shifts of two weeks from this day; today if left out.",
)
@click.option("--json", "as_json", is_flag=True, help="Print one JSON document and nothing else.")
def check(folder: Path, day_text: str, as_json: bool) -> int:
    """Say what is wrong (exit 2) or doubtful (exit 1) in the house files in DIR."""
    from board.batches.refused import refused_recipes  # noqa: PLC0415
    from board.house.calendar import local  # noqa: PLC0415
    from board.house.check import Doubt, stray_files, summary  # noqa: PLC0415
    from board.house.files import read_house  # noqa: PLC0415
    from board.house.years import day_meant  # noqa: PLC0415
    from board.planning.doubts import every_doubt  # noqa: PLC0415

    house = read_house(folder)
    day = day_meant(day_text, local(datetime.now(UTC), house).date())
    over = refused_recipes(house, day)
    found = stray_files(folder)
    found += [Doubt(f"recipes.toml, {id}", why) for id, said in over.items() for why in said]
    found += every_doubt(house, day)
    if as_json:
        rows = [{"where": doubt.where, "what": doubt.text} for doubt in found]
        click.echo(json.dumps({"house": house.name, "doubts": rows}, ensure_ascii=False, indent=2))
    else:
        for doubt in found:
            click.echo(str(doubt))
        if not found:
            click.echo(summary(house))
    return 1 if found else 0  # doubts are news a script must notice
