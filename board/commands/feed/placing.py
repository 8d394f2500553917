"""`board feed place` and `board feed strike`: where a probe is, and what of it does not count."""

from datetime import UTC, datetime
from pathlib import Path

import click

from board.commands.backing import backed_up
from board.commands.open_board import house_of
from board.commands.recording import options, tell, who_and_when
from board.errors import LedgerError
from board.house.probes import named_by
from board.house.wording import count
from board.ledger import feeding
from board.ledger.open import Ledger, open_ledger
from board.ledger.when import moment_or_now
from board.ledger.where import ledger_path

OUT = "out"


@click.command("place")
@click.argument("probe")
@click.argument("load")
@options
def place(
    probe: str, load: str, *, at: str | None, who: str | None, ledger: Path | None, as_json: bool
) -> None:
    """Say that PROBE was put into LOAD, or taken out of all: out."""
    with backed_up(open_ledger(ledger_path(ledger))) as opened:
        said = who_and_when(opened, who, at)
        into = None if load.casefold() == OUT else load
        entry = feeding.place_probe(opened, _known(opened, probe), into, **said)
        tell(opened, entry, as_json, f"{entry.subject} {'out' if into is None else f'in {into}'}")


@click.command("strike")
@click.argument("probe")
@click.option("--from", "since", required=True, metavar="TIME", help="The first moment that is wrong.")
@click.option("--to", "until", metavar="TIME", help="The last moment that is wrong [now].")
@click.option("--why", default="", help="What was wrong, such as 'fell out'.")
@options
def strike(
    probe: str,
    *,
    since: str,
    until: str | None,
    why: str,
    at: str | None,
    who: str | None,
    ledger: Path | None,
    as_json: bool,
) -> None:
    """Strike what PROBE fed over a span: it stays on record, and counts for nothing."""
    with backed_up(open_ledger(ledger_path(ledger))) as opened:
        said = who_and_when(opened, who, at)
        now = datetime.now(UTC)
        span = (moment_or_now(since, opened.zone, now), moment_or_now(until, opened.zone, now))
        entry = feeding.strike_probe(opened, _known(opened, probe), *span, why, **said)
        read = count(entry.data["readings"], "reading")
        shown = " to ".join(opened.clock(end) for end in span)
        tell(opened, entry, as_json, f"{entry.subject}, {read} from {shown}, struck")


def _known(ledger: Ledger, probe: str) -> str:
    """The id of a probe by its id, its name, or the name it is sent as."""
    known = house_of(ledger).probes
    for one in known.values():
        if probe.casefold() in (one.id.casefold(), one.name.casefold()):
            return one.id
    sent = named_by(known).get(probe)
    if sent is None:
        raise LedgerError(f"there is no probe {probe}; the probes are {', '.join(known) or 'none'}")
    return sent.id
