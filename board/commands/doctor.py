"""`board doctor`: whether the ledger is sound, and mending it."""

import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from board.commands.options import ledger_option

if TYPE_CHECKING:
    from board.ledger.doctor.finding import Findings


@click.command("doctor")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON document.")
@ledger_option
def command(*, as_json: bool, ledger: Path | None) -> int:
    """Look whether the ledger is sound: nothing lost, nothing changed, everything as the record says.

    Ends with 0 where it is sound, 1 where something is wrong, 2 where there is no ledger to look at.
    """
    from board.ledger.doctor.examine import examine  # noqa: PLC0415 - help needs no ledger
    from board.ledger.where import ledger_path  # noqa: PLC0415

    found = examine(ledger_path(ledger))
    click.echo(json.dumps(_document(found), ensure_ascii=False, indent=2) if as_json else _told(found))
    return 0 if found.sound else 1


def _told(found: "Findings") -> str:
    """What was looked at, what is wrong and what is worth knowing, a line each."""
    lines = [f"{found.path}"]
    for look in found.looks:
        lines.append(f"  {look.what}: {look.seen}: {'wrong' if look.faults else 'sound'}")
        lines += [f"    wrong: {fault}" for fault in look.faults]
        lines += [f"    note: {note}" for note in look.notes]
    return "\n".join([*lines, _verdict(found)])


def _verdict(found: "Findings") -> str:
    if found.sound:
        return "The ledger is sound."
    return "The ledger is not sound. board doctor --mend mends what can be, and keeps the file as it is now."


def _document(found: "Findings") -> dict[str, Any]:
    looks = [
        {"what": look.what, "seen": look.seen, "faults": list(look.faults), "notes": list(look.notes)}
        for look in found.looks
    ]
    return {"ledger": str(found.path), "sound": found.sound, "looks": looks}
