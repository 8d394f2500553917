"""`board pin`: set the PIN that a person signs with."""

import sys
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from board.commands.open_board import house_of, ledger_meant
from board.commands.options import ledger_option
from board.commands.outlet import say_done
from board.commands.people import called, crew_of
from board.errors import BoardError
from board.ledger.open import Ledger

if TYPE_CHECKING:
    from board.ledger.signers import Vouched


@click.group("pin")
def command() -> None:
    """The PIN that a person signs the record and a handover with."""


@command.command("set")
@click.argument("who")
@click.option("--forgotten", is_flag=True, help="Set another without the old one; the record tells it.")
@ledger_option
def set_pin(who: str, *, forgotten: bool, ledger: Path | None) -> None:
    """Set the PIN of WHO: the old one is asked, where there is one, then the new one twice.

    In a terminal nothing of it is shown; else each is a line of standard input, the new one once.
    """
    from board.ledger import signers, write  # noqa: PLC0415 - help needs no ledger

    with ledger_meant(ledger) as found:
        person, now = person_signing(found, who), datetime.now(UTC)
        name = called(crew_of(found), person)
        asks_old = signers.has_pin(found, person) and not forgotten
        old = shown_pin(found, person) if asks_old else None
        new = _new_pin(name)
        entry = write.set_pin(found, new, old, forgotten=forgotten, who=person, at=now, noted_at=now)
        say_done(f"{name} has a PIN for signing (entry {entry.seq})")
        if not house_of(found).signs_with_pin:
            click.echo(
                "this house does not ask for it: in house.toml write [signing] and pin = true", err=True
            )


def person_signing(ledger: Ledger, named: str) -> str:
    """Who is meant by a name or an id of the crew; any other name as it is."""
    from board.commands.opening_up import person_meant  # noqa: PLC0415 - help needs no house

    return person_meant(house_of(ledger), named, strict=False)


def shown_pin(ledger: Ledger, who: str) -> "Vouched":
    """Ask a person's PIN, and whether it is theirs.

    Raises:
        LedgerError: it is not, none is set, or a wait is not over.
    """
    from board.commands.secret import asked_secretly  # noqa: PLC0415
    from board.ledger import signers  # noqa: PLC0415
    from board.views.signing import wrong_before  # noqa: PLC0415

    signers.check_may_try(ledger, who, datetime.now(UTC))
    name = called(crew_of(ledger), who)
    pin = asked_secretly(f"PIN of {name}")
    vouched = signers.show_pin(ledger, who, pin, datetime.now(UTC))
    if said := wrong_before(vouched):
        click.echo(f"the PIN of {name} was shown{said}", err=True)
    return vouched


def _new_pin(who: str) -> str:
    """The new PIN; in a terminal typed twice, since nobody sees a slip."""
    from board.commands.secret import asked_secretly  # noqa: PLC0415

    pin = asked_secretly(f"new PIN of {who}")
    if sys.stdin.isatty() and asked_secretly("the same again") != pin:
        raise BoardError("the two are not the same; nothing was set, try again")
    return pin
