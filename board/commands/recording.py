"""What the commands that record share: who, when, which ledger, and how the entry is told."""

import json
from collections.abc import Callable
from datetime import UTC, datetime
from functools import wraps
from pathlib import Path
from typing import Any

import click

from board.commands.options import ledger_option
from board.commands.outlet import say_done
from board.commands.people import called, crew_of, somebody
from board.errors import BoardError, LedgerError
from board.house.files import read_house
from board.house.model import House
from board.ledger.doubtful import disagrees
from board.ledger.open import Ledger
from board.ledger.state import Entry
from board.ledger.when import moment_or_now
from board.views.clock_words import disagrees_told
from board.views.text import inert

Command = Callable[..., Any]
_CLOCK = "board.clock"  # where the word about it waits until the command is done


def options(function: Command) -> Command:
    """Give a command --at, --who, --ledger and --json, and a word where this machine's clock looks wrong."""
    function = _told_of_the_clock(function)
    for option in (
        click.option("--json", "as_json", is_flag=True, help="Print the entry as one JSON document."),
        ledger_option,
        click.option("--who", envvar="BOARD_WHO", help="Who did it [BOARD_WHO]."),
        click.option("--at", help="When: 04:30 (the nearest past), or 2026-12-09T04:30-07:00 [now]."),
    ):
        function = option(function)
    return function


def who_and_when(ledger: Ledger, who: str | None, at: str | None) -> dict[str, Any]:
    """The arguments every entry takes, from what was typed and the clock."""
    person, now = somebody(ledger, who, "did it"), datetime.now(UTC)
    click.get_current_context().meta[_CLOCK] = clock_word(ledger, now)
    return {"who": person, "at": moment_or_now(at, ledger.zone, now), "noted_at": now}


def _told_of_the_clock(function: Command) -> Command:
    """Say in one line that this machine's clock looks wrong: with the refusal, or after what was recorded."""

    @wraps(function)
    def told(*args: Any, **options: Any) -> Any:
        said = click.get_current_context().meta
        try:
            done = function(*args, **options)
        except LedgerError as error:
            if said.get(_CLOCK):
                raise LedgerError(f"{error}; {said[_CLOCK]}") from error
            raise
        if said.get(_CLOCK):
            click.echo(f"board: {said[_CLOCK]}", err=True)
        return done

    return told


def clock_word(ledger: Ledger, now: datetime) -> str:
    """How this machine's clock contradicts the entries so far; empty where it does not."""
    found = disagrees(ledger, now)
    return disagrees_told(found, ledger) if found else ""


def tell(ledger: Ledger, entry: Entry, as_json: bool, sentence: str) -> None:
    """Print the entry: a sentence with its time, person and number, or a JSON document."""
    before, who = "already recorded: " if entry.already else "", called(crew_of(ledger), entry.who)
    told = f"{before}{inert(sentence)} at {ledger.clock(entry.at)} by {who} (entry {entry.seq})"
    as_document = json.dumps(document(ledger, entry), ensure_ascii=False, indent=2) if as_json else ""
    say_done(as_document or told, told)


def document(ledger: Ledger, entry: Entry) -> dict[str, Any]:
    """The entry as other programs may read it; times with the house's offset."""
    return {
        "seq": entry.seq,
        "at": ledger.with_offset(entry.at),
        "noted_at": ledger.with_offset(entry.noted_at),
        "who": entry.who,
        "kind": entry.kind,
        "subject": entry.subject,
        "data": dict(entry.data),
        "undoes": entry.undoes,
        "already": entry.already,
    }


def house_of(ledger: Ledger) -> House | None:
    """The house whose ledger this is; None, and a word about it, when its files cannot be read now."""
    if ledger.house is None:
        return None
    try:
        return read_house(Path(ledger.house.folder))
    except BoardError as error:
        click.echo(f"board: the place is not checked against the house: {error}", err=True)
        return None
