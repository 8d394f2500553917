"""Starting and ending the watch over some food, and its days in the freezer."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from board.errors import LedgerError
from board.ledger import find, store, typed
from board.ledger.append import already, append, last
from board.ledger.facts import WatchFacts
from board.ledger.keys import watch_key
from board.ledger.open import Ledger
from board.ledger.state import Entry, WatchEnd, WatchKind
from board.ledger.times import day_text
from board.ledger.typed import Said


@dataclass(frozen=True, slots=True)
class Watched:
    """What is to be watched: the food, how much of it, from which load or watch, where, and in what way.

    `made_on` is the day the food was made, for its date mark.
    """

    kind: WatchKind
    what: str
    amount: str | None = None
    load: str | None = None
    place: str | None = None
    way: str | None = None
    from_watch: str | None = None
    made_on: date | None = None


def start_watch(ledger: Ledger, watched: Watched, *, who: str, at: datetime, noted_at: datetime) -> Entry:
    """Begin to watch some food under a rule; its readings are taken with the watch's name as their place.

    The watch is named by the house's date, its kind and a number, as `1219-cooling-1`.

    Raises:
        LedgerError: no such load or watch, or a doubtful time.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        data = _data(ledger, watched, said.at)
        running = _running(ledger, data)
        if running is not None:
            return already(ledger, running)
        return append(ledger, said, "watch", _new_name(ledger, watched.kind, said.at), data)


def end_watch(
    ledger: Ledger, watch: str, how: WatchEnd, *, who: str, at: datetime, noted_at: datetime
) -> Entry:
    """End a watch: its food is done with the rule, used, or discarded.

    Raises:
        LedgerError: no such watch, ended in another way, or a doubtful time.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        found = _found(ledger, watch)
        if found.how is WatchEnd(how):
            return already(ledger, last(ledger, watch_key(found.id), kind="watch ended").seq)
        _check_running(ledger, found)
        _check_after(ledger, found, said.at)
        return append(ledger, said, "watch ended", found.id, {"how": WatchEnd(how)})


def freeze(ledger: Ledger, watch: str, *, who: str, at: datetime, noted_at: datetime) -> Entry:
    """Put a date-marked lot into the freezer; its days there do not count.

    Raises:
        LedgerError: no such lot, ended, in the freezer already, or a doubtful time.
    """
    with ledger.writing():
        return _freezer(ledger, typed.said(ledger, who, at, noted_at), watch, "frozen")


def take_out(ledger: Ledger, watch: str, *, who: str, at: datetime, noted_at: datetime) -> Entry:
    """Take a date-marked lot out of the freezer; its days count again.

    Raises:
        LedgerError: no such lot, ended, not in the freezer, or a doubtful time.
    """
    with ledger.writing():
        return _freezer(ledger, typed.said(ledger, who, at, noted_at), watch, "thawed")


def _freezer(ledger: Ledger, said: Said, watch: str, kind: str) -> Entry:
    found = _found(ledger, watch)
    if found.kind is not WatchKind.DATE_MARKED:
        raise LedgerError(f"{found.id} is {found.kind}; only a date-marked lot goes into the freezer")
    _check_running(ledger, found)
    if found.frozen.endswith("/") == (kind == "frozen"):
        inside = "is in the freezer already" if kind == "frozen" else "is not in the freezer"
        raise LedgerError(f"{found.id} {inside}; see the record")
    _check_after(ledger, found, said.at)
    on = day_text(ledger.day(said.at))
    return append(ledger, said, kind, found.id, {"on": on})


def _data(ledger: Ledger, watched: Watched, at: datetime) -> dict[str, Any]:
    data: dict[str, Any] = {
        "watch": WatchKind(watched.kind),
        "what": typed.name(watched.what, "the food"),
        "amount": typed.name(watched.amount, "the amount") if watched.amount else None,
        "place": typed.name(watched.place, "the place") if watched.place else None,
        "way": typed.name(watched.way, "the way") if watched.way else None,
        "from_watch": _found(ledger, watched.from_watch).id if watched.from_watch else None,
        "made_on": day_text(watched.made_on) if watched.made_on else None,
    }
    if watched.load is not None:
        load = find.load(ledger, watched.load, at)
        data |= {"load": load.id, "day": day_text(load.day)}
    return {key: value for key, value in data.items() if value is not None}


def _running(ledger: Ledger, data: dict[str, Any]) -> int | None:
    """The entry that began a watch over the very same food, while that runs."""
    row = ledger.row(
        """SELECT seq FROM watches WHERE ended_at IS NULL AND kind = ? AND what = ?
        AND load IS ? AND load_day IS ? AND place IS ? AND amount IS ? AND from_watch IS ?""",
        (
            data["watch"],
            data["what"],
            *(data.get(key) for key in ("load", "day", "place", "amount", "from_watch")),
        ),
    )
    return int(row["seq"]) if row else None


def _new_name(ledger: Ledger, kind: WatchKind, at: datetime) -> str:
    """A name no watch had before, not even one taken back."""
    start = f"{at.astimezone(ledger.zone):%m%d}-{kind.replace(' ', '-')}-"
    row = ledger.row(
        "SELECT count(DISTINCT id) AS n FROM bearing WHERE family = 'watch' AND id GLOB ?", (f"{start}*",)
    )
    return f"{start}{(row['n'] if row else 0) + 1}"


def _found(ledger: Ledger, watch: str) -> WatchFacts:
    found = store.stored(ledger, watch_key(watch))
    if isinstance(found, WatchFacts):
        return found
    rows = ledger.rows("SELECT id FROM watches WHERE ended_at IS NULL ORDER BY started_at DESC LIMIT 12")
    those = f"there are {', '.join(row['id'] for row in rows)}" if rows else "nothing is watched now"
    raise LedgerError(f"there is no watch {watch}; {those}")


def _check_running(ledger: Ledger, watch: WatchFacts) -> None:
    if watch.ended_at is not None:
        raise LedgerError(f"{watch.id} was {watch.how} at {ledger.clock(watch.ended_at)}; undo that first")


def _check_after(ledger: Ledger, watch: WatchFacts, at: datetime) -> None:
    if at < watch.started_at:
        raise LedgerError(f"{watch.id} began at {ledger.clock(watch.started_at)}; nothing ends before that")
