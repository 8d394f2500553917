"""The one question the options ask of a record, with what goes with it."""

from collections.abc import Callable, Mapping
from typing import Any

import click

from board.house.model import Handling
from board.house.units import parse_mass_kg, parse_temperature_c
from board.safety.cooked import cooked
from board.safety.cooling import cooled
from board.safety.holding import held_cold, held_hot
from board.safety.log import TemperatureLog
from board.safety.ovens import Oven
from board.safety.reheating import reheated
from board.safety.tempering import tempered
from board.safety.thawing import thawed
from board.safety.verdict import Verdict

Ask = Callable[[TemperatureLog], Verdict]
QUESTIONS = ("food", "cooling", "holding", "reheating", "thawing", "tempering")
GOES_WITH = {
    "oven": "food",
    "mass": "food",
    "convection": "food",
    "humid": "food",
    "charted_roast": "holding",
    "from_room": "cooling",
    "commercial": "reheating",
    "ready_to_eat": "thawing",
}


def verdict_on(said: Mapping[str, Any], place: str) -> Ask:
    """What to ask of the record; raises UsageError for no question, two, or what does not go with it."""
    asked = [name for name in QUESTIONS if said[name]]
    if len(asked) != 1:
        raise click.UsageError(f"ask one thing of the record: one of {', '.join(map(_option, QUESTIONS))}")
    for name, question in GOES_WITH.items():
        if said[name] and question != asked[0]:
            raise click.UsageError(f"{_option(name)} goes with {_option(question)} only")
    return _asks(said, place)[asked[0]]


def _asks(said: Mapping[str, Any], place: str) -> dict[str, Ask]:
    def as_cooked(log: TemperatureLog) -> Verdict:
        return cooked(log, Handling(said["food"]), place=place, oven=oven)

    def as_held(log: TemperatureLog) -> Verdict:
        if said["holding"] == "hot":
            return held_hot(log, place=place, charted_roast=said["charted_roast"])
        return held_cold(log, place=place)

    oven = _oven(said)
    return {
        "food": as_cooked,
        "holding": as_held,
        "cooling": lambda log: cooled(log, place=place, from_room_temperature=said["from_room"]),
        "reheating": lambda log: reheated(log, place=place, commercial=said["commercial"]),
        "thawing": lambda log: thawed(log, place=place, ready_to_eat=said["ready_to_eat"]),
        "tempering": lambda log: tempered(log, place=place),
    }


def _oven(said: Mapping[str, Any]) -> Oven | None:
    """What a roast was cooked in, where it is said."""
    if said["holding"] == "cold" and said["charted_roast"]:
        raise click.UsageError("--charted-roast goes with --holding hot only")
    if said["oven"] is None and said["mass"] is None:
        if said["convection"] or said["humid"]:
            raise click.UsageError("--convection and --humid go with --oven and --mass")
        return None
    if said["oven"] is None or said["mass"] is None:
        raise click.UsageError(
            "--oven and --mass go together: the chart asks for an oven by the roast's weight"
        )
    return Oven(
        parse_temperature_c(said["oven"]),
        parse_mass_kg(said["mass"]),
        convection=said["convection"],
        humid=said["humid"],
    )


def _option(name: str) -> str:
    return f"--{name.replace('_', '-')}"
