"""Who is meant by a name typed to a command, and what a person is called."""

from collections.abc import Mapping
from pathlib import Path

from board.errors import LedgerError
from board.house.model import Person
from board.house.told_zone import told_crew
from board.ledger.open import Ledger
from board.views.text import inert


def somebody(ledger: Ledger, typed: str | None, does: str) -> str:
    """The id of who is meant by a name or an id of the crew, as the board writes it; another name as it is.

    Raises:
        LedgerError: nobody is named; says what they would do.
    """
    return id_named(crew_of(ledger), who_named(typed, does))


def who_named(typed: str | None, does: str) -> str:
    """Who was named to a command, or in the environment; else who usually is at this machine.

    Raises:
        LedgerError: nobody is.
    """
    who = (typed or "").strip() or _usual()
    if not who:
        raise LedgerError(f"say who {does}: --who NAME, or set BOARD_WHO, or who in the settings")
    return who


def _usual() -> str:
    from board.app.settings_file import read_settings, settings_path  # noqa: PLC0415 - only where nobody is named

    return str(read_settings(settings_path()).values.get("who", "")).strip()


def id_named(people: Mapping[str, Person], named: str) -> str:
    """The id of somebody named by id or by name; a name of nobody's as it is."""
    if named in people:
        return named
    called = {person.name.casefold(): person.id for person in people.values()}
    return called.get(named.casefold(), named)


def called(people: Mapping[str, Person], who: str) -> str:
    """What the crew calls a person; who is none of it as written."""
    return inert(people[who].name if who in people else who)


def crew_of(ledger: Ledger) -> Mapping[str, Person]:
    """The people of the house whose ledger this is, by id; nobody where its files cannot be read."""
    return told_crew(Path(ledger.house.folder)) if ledger.house else {}
