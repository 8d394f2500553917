"""`board backup`: a backup of the ledger now, a copy of it off this machine, and those there are."""

import json
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import click

from board.commands.open_board import ledger_meant
from board.commands.options import ledger_option
from board.commands.outlet import say_beside, say_done
from board.errors import BoardError
from board.house.folder import folder_meant
from board.ledger.open import Ledger


@click.command("backup")
@click.option(
    "--to",
    type=click.Path(path_type=Path),
    envvar="BOARD_BACKUP_TO",
    help="A folder off this machine for a copy [BOARD_BACKUP_TO, or backup_to in settings.toml].",
)
@click.option("--list", "only_list", is_flag=True, help="List the backups, and make none.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON document.")
@ledger_option
def command(*, to: Path | None, only_list: bool, as_json: bool, ledger: Path | None) -> int:
    """Back the ledger up while boards write it, prove the backup by opening it, and copy it elsewhere.

    Ends with 1 where the backup was made but not the copy.
    """
    now = datetime.now(UTC)
    with ledger_meant(ledger) as found:
        if only_list:
            return _list(found, as_json)
        return _back_up(found, folder_meant(str(to)) if to else _usual_place(), as_json, now)


def _usual_place() -> Path | None:
    from board.app.settings_file import backup_to  # noqa: PLC0415 - asked only where no flag names it

    return backup_to()


def _back_up(ledger: Ledger, to: Path | None, as_json: bool, now: datetime) -> int:
    from board.ledger.backups.away import copy_away, is_same_disk  # noqa: PLC0415 - help needs no ledger
    from board.ledger.backups.catalogue import back_up  # noqa: PLC0415
    from board.ledger.backups.named import Kind  # noqa: PLC0415

    made = back_up(ledger.path, Kind.ASKED, now, ledger.zone)
    says = f"backed up: {made.path}, {_up_to(made.seq)}, {_size(made.path)}, opened and found whole"
    say_beside(says, as_json=as_json)
    copy, problem = None, ""
    if to is not None:
        name = ledger.house.name if ledger.house else ""
        try:
            copy = copy_away(made, ledger.path, to, name, now=now, zone=ledger.zone)
        except BoardError as error:
            problem = str(error)
            click.echo(f"board: {problem}", err=True)
        else:
            beside = ", on the ledger's own disk: it is lost with it" if is_same_disk(ledger.path, to) else ""
            say_beside(f"copied: {copy}{beside}", as_json=as_json)
    if as_json:
        document = {
            **_document(ledger, made),
            "copy": str(copy) if copy else None,
            "problem": problem or None,
        }
        say_done(json.dumps(document, ensure_ascii=False, indent=2), says)
    return 1 if problem else 0


def _list(ledger: Ledger, as_json: bool) -> int:
    from board.ledger.backups.away import last_copied  # noqa: PLC0415 - help needs no ledger
    from board.ledger.backups.catalogue import backups_in, folder_of  # noqa: PLC0415

    found, copied = backups_in(folder_of(ledger.path)), last_copied(ledger.path)
    if as_json:
        last = copied and {"to": copied.to, "at": ledger.with_offset(copied.at), "seq": copied.seq}
        document = {"backups": [_document(ledger, one) for one in found], "copied": last}
        click.echo(json.dumps(document, ensure_ascii=False, indent=2))
        return 0
    click.echo("\n".join(_lines(ledger, found)))
    if copied is not None:
        click.echo(f"last copied at {ledger.date_and_clock(copied.at)} to {copied.to}, {_up_to(copied.seq)}")
    return 0


def _lines(ledger: Ledger, found: Sequence[Any]) -> list[str]:
    """The backups, the newest first, numbered as board restore takes them."""
    if not found:
        return ["no backup yet; board backup makes one"]
    return [
        f"{number:>3}  {ledger.date_and_clock(one.at):<{_WHEN}}  {_up_to(one.seq):<20}"
        f"  {_size(one.path):>9}  {_WHY[one.kind]}"
        for number, one in enumerate(found, 1)
    ]


_WHEN = len("12:00 pm on Wed 30 Sep 2026")
_WHY = {
    "daily": "of the day",
    "asked": "asked for",
    "migration": "before a newer program changed the tables",
    "restore": "what stood before a backup was put back",
}


def _document(ledger: Ledger, backup: Any) -> dict[str, Any]:
    return {
        "file": str(backup.path),
        "at": ledger.with_offset(backup.at),
        "seq": backup.seq,
        "kind": str(backup.kind),
        "bytes": backup.path.stat().st_size,
    }


def _up_to(seq: int) -> str:
    return f"up to entry {seq}" if seq else "no entry yet"


def _size(path: Path) -> str:
    size = path.stat().st_size
    return f"{size / 1e6:.1f} MB" if size >= 1e6 else f"{size / 1e3:.0f} kB"
