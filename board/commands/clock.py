"""`board clock`: whether this machine's clock agrees with the record, and what a wrong one wrote."""

import json
from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import click

from board.commands.open_board import ledger_meant
from board.commands.options import ledger_option
from board.commands.people import called, crew_of, somebody
from board.errors import LedgerError
from board.house.wording import said_set, times_of
from board.ledger import write
from board.ledger.clock_right import timed
from board.ledger.clocks import Clocks, Doubt
from board.ledger.doubtful import Disagrees, clocks, disagrees
from board.ledger.open import Ledger
from board.ledger.state import Entry, RightClock
from board.ledger.when import moment_meant
from board.views.clock_words import DOUBTFUL, disagrees_told, doubt_document, doubt_word

Doubts = Mapping[Doubt, Sequence[Entry]]
"""The wrong clocks, with what they wrote whose times can be put right."""


@click.command("clock")
@click.option("--right", is_flag=True, help="Say that this machine's clock is right now.")
@click.option("--put-right", "seq", type=click.IntRange(1), metavar="ENTRY",
              help="Put right the times of all that the wrong clock of this entry wrote.")  # fmt: skip
@click.option("--first", metavar="TIME", help="When the first of them truly happened, where nobody knows.")
@click.option("--who", envvar="BOARD_WHO", help="Who says so [BOARD_WHO].")
@ledger_option
@click.option("--json", "as_json", is_flag=True, help="Print one JSON document.")
def command(
    *, right: bool, seq: int | None, first: str | None, who: str | None, ledger: Path | None, as_json: bool
) -> int:
    """Tell where this machine's clock was set, and which entries' times are doubtful for it.

    Ends with 1 where something is doubtful, 0 where nothing is.
    """
    with ledger_meant(ledger) as found:
        now = datetime.now(UTC)
        if right:
            _say_right(found, who, now)
        if seq is not None:
            _put_right(found, seq, first, who, now)
        seen = clocks(found, 1)
        doubts = {doubt: left for doubt in seen.doubts if (left := timed(found, doubt))}
        against = disagrees(found, now)
        if as_json:
            click.echo(json.dumps(_document(found, now, seen, doubts, against), ensure_ascii=False, indent=2))
        else:
            _tell(found, now, seen, doubts, against)
        return 1 if doubts or against else 0


def _say_right(ledger: Ledger, who: str | None, now: datetime) -> None:
    against = disagrees(ledger, now)
    if against is None:
        click.echo("this machine's clock agrees with the entries so far; nothing is recorded", err=True)
        return
    ahead = against.ahead
    person = somebody(ledger, who, "says so")
    entry = write.settle_clock(ledger, RightClock.MACHINE, ahead, who=person, at=now, noted_at=now)
    who = called(crew_of(ledger), entry.who)
    click.echo(f"this machine's clock is right, by {who} (entry {entry.seq})", err=True)


def _put_right(ledger: Ledger, seq: int, first: str | None, who: str | None, now: datetime) -> None:
    doubt = clocks(ledger, 1).doubt(seq)
    left = timed(ledger, doubt) if doubt else []
    if doubt is None or not left:
        raise LedgerError(f"--put-right: the time of entry {seq} is not doubtful; see board clock")
    ahead = left[0].at - moment_meant(first, ledger.zone, now) if first else doubt.ahead
    if ahead is None:
        raise LedgerError(
            f"nobody knows how far off that clock was; give --first TIME, when entry {left[0].seq} happened"
        )
    person = somebody(ledger, who, "says so")
    put = write.put_times_right(ledger, doubt, ahead, who=person, at=now, noted_at=now)
    numbers = f"entry {put[0].seq}" if len(put) == 1 else f"entries {put[0].seq} to {put[-1].seq}"
    click.echo(f"the {times_of(len(put))} put right ({numbers})", err=True)


def _tell(ledger: Ledger, now: datetime, seen: Clocks, doubts: Doubts, against: Disagrees | None) -> None:
    """Where it was set, what it wrote, and how it stands now."""
    for one in seen.sets:
        click.echo(f"set {said_set(one.by)} between entries {one.after} and {one.before}")
    for doubt, left in doubts.items():
        settles = f"board clock --put-right {left[0].seq} puts {len(left)} right"
        click.echo(f"{DOUBTFUL} {_entries(doubt)}: written {doubt_word(doubt)}; {settles}")
    if against:
        click.echo(f"{disagrees_told(against, ledger)} --right")
    else:
        click.echo(f"this machine's clock shows {ledger.date_and_clock(now)}, as expected")


def _entries(doubt: Doubt) -> str:
    """The numbers of its entries: `entry 4`, `entries 4 to 7, 9`."""
    spans = [f"{first} to {last}" if first != last else f"{first}" for first, last in doubt.spans]
    return f"{'entry' if spans == [str(doubt.spans[0][0])] else 'entries'} {', '.join(spans)}"


def _document(
    ledger: Ledger, now: datetime, seen: Clocks, doubts: Doubts, against: Disagrees | None
) -> dict[str, Any]:
    expected = against.expected if against else now
    return {
        "shows": ledger.with_offset(now),
        "expected": ledger.with_offset(expected),
        "sets": [
            {"after": one.after, "before": one.before, "by_s": round(one.by.total_seconds())}
            for one in seen.sets
        ],
        "doubts": [
            {
                "entries": [list(span) for span in doubt.spans],
                "left": [entry.seq for entry in left],
                **(doubt_document(doubt) or {}),
            }
            for doubt, left in doubts.items()
        ],
    }
