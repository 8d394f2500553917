"""`board safe`: the options, and which question they ask of the record."""

import json
from pathlib import Path
from typing import Any

import click

from board.commands.safe.answer import Report, document, sentences
from board.commands.safe.asked import verdict_on
from board.house.calendar import zone
from board.house.files import read_house
from board.house.model import JURISDICTIONS, Handling
from board.safety.read_log import read_log
from board.safety.verdict import Answer

BAD_NEWS = 1


@click.command("safe")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--food", type=click.Choice([h.value for h in Handling]), help="Was it cooked, as what.")
@click.option("--cooling", is_flag=True, help="Was it cooled in time.")
@click.option(
    "--holding", type=click.Choice(["hot", "cold"]), help="Was it kept hot, or cold, all the while."
)
@click.option("--reheating", is_flag=True, help="Was it reheated in time for hot holding.")
@click.option("--thawing", is_flag=True, help="Was it thawed within the rule, by its warmest part.")
@click.option("--tempering", is_flag=True, help="Was it out of the cold no longer than allowed.")
@click.option("--part", metavar="NAME", help="Whose temperature: core reads core_c or core_f [core].")
@click.option("--oven", metavar="TEMP", help="With --food and --mass: the oven or pit, such as '250 F'.")
@click.option("--mass", metavar="MASS", help="With --oven: the raw mass of one roast, such as '12 lb'.")
@click.option("--convection", is_flag=True, help="With --oven: a fan moves its air.")
@click.option(
    "--humid", is_flag=True, help="With --oven: over 90 % humidity for an hour, or in a sealed bag."
)
@click.option("--charted-roast", is_flag=True, help="With --holding hot: a roast cooked by the roast chart.")
@click.option("--from-room", is_flag=True, help="With --cooling: made of ingredients at room temperature.")
@click.option("--commercial", is_flag=True, help="With --reheating: ready to eat from an inspected plant.")
@click.option("--ready-to-eat", is_flag=True, help="With --thawing: food that is not cooked any more.")
@click.option("--limits", type=click.Choice(JURISDICTIONS), help="Whose rules [the house's, or us].")
@click.option(
    "--house", type=click.Path(path_type=Path), help="A house's folder, whose rules and whose clock count."
)
@click.option("--json", "as_json", is_flag=True, help="Print one JSON document and nothing else.")
def command(
    file: Path, *, part: str | None, limits: str | None, house: Path | None, as_json: bool, **said: Any
) -> int:
    """Say what the temperatures in FILE prove: pass, fail, or not shown, and what would settle it.

    FILE is CSV: time,core_c or time,core_f. A time is minutes, or a date and time such as 2026-12-19T10:00;
    an empty temperature is a gap. Ends with 1 unless the record passes.
    """
    known = read_house(house) if house else None
    place = limits or (known.jurisdiction if known else "us")
    ask = verdict_on(said, place)
    log = read_log(file, part, zone(known) if known else None)
    report = Report(file.name, log, ask(log), place)
    if as_json:
        click.echo(json.dumps(document(report), indent=2, ensure_ascii=False))
    else:
        click.echo("\n".join(sentences(report)))
    return 0 if report.verdict.answer is Answer.PASS else BAD_NEWS
