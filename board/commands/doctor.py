"""`board doctor`: whether the ledger is sound, and mending it."""

import json
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from board.commands.options import ledger_option
from board.commands.people import id_named

NOBODY = "board doctor"  # in the record, where no person is named

_OTHER_RECORD = (
    "The ledger is whole, but it is not the record that the page was printed from. Look whether the digits\n"
    "are typed as they stand there. If they are, entries were changed since, or a backup was put back, and\n"
    "nothing can be mended. Keep the file, and compare the page with a backup: add --ledger and its file."
)

if TYPE_CHECKING:
    from board.ledger.doctor.finding import Findings
    from board.ledger.doctor.printed import Printed


@click.command("doctor")
@click.option("--mend", is_flag=True, help="Mend what can be, keeping the file as it is now.")
@click.option(
    "--printed",
    "pages",
    multiple=True,
    metavar="ENTRY:DIGITS",
    help="Compare with a page printed before: 258:9f2ce01b77aa03d4, as at its foot.",
)
@click.option("--who", envvar="BOARD_WHO", help="Who mends it, for the record [BOARD_WHO].")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON document.")
@ledger_option
def command(
    *, mend: bool, pages: tuple[str, ...], who: str | None, as_json: bool, ledger: Path | None
) -> int:
    """Look whether the ledger is sound: nothing lost, nothing changed, everything as the record says.

    Ends with 0 where it is sound, 1 where something is wrong, 2 where there is no ledger to look at.
    """
    from board.ledger.doctor.examine import examine  # noqa: PLC0415 - help needs no ledger
    from board.ledger.doctor.printed import printed  # noqa: PLC0415
    from board.ledger.where import ledger_path  # noqa: PLC0415

    path = ledger_path(ledger)
    known = [printed(page) for page in pages]
    found = _mended(path, known, who, talk=not as_json) if mend else examine(path, known)
    click.echo(json.dumps(_document(found), ensure_ascii=False, indent=2) if as_json else _told(found))
    return 0 if found.sound else 1


def _mended(path: Path, pages: "list[Printed]", who: str | None, *, talk: bool) -> "Findings":
    """Mend, say on standard error what was done, and tell how the ledger is then."""
    from board.ledger.doctor.mend import mend  # noqa: PLC0415
    from board.ledger.doctor.naming import crew_in  # noqa: PLC0415
    from board.ledger.typed import name  # noqa: PLC0415

    person = id_named(crew_in(path, path), name(who, "who mends it (--who)")) if who else NOBODY
    done = mend(path, person, datetime.now(UTC), pages)
    if talk:
        for fault in done.before.faults:
            click.echo(f"was wrong: {fault}", err=True)
    if done.kept is not None:
        click.echo(f"the file as it was is kept: {done.kept}", err=True)
    return done.after


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
        return "The ledger is sound" + (", but for what is told above." if found.gaps else ".")
    if found.only_pages:
        return _OTHER_RECORD
    return "The ledger is not sound. board doctor --mend mends what can be, and keeps the file as it is now."


def _document(found: "Findings") -> dict[str, Any]:
    looks = [
        {"what": look.what, "seen": look.seen, "faults": list(look.faults), "notes": list(look.notes)}
        for look in found.looks
    ]
    return {"ledger": str(found.path), "sound": found.sound, "gaps": list(found.gaps), "looks": looks}
