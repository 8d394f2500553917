"""What people do to a ledger: a day from a script, and hands that do anything at all."""

import json
import os
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path
from random import Random

from board.errors import BoardError
from board.ledger import feeding, read, record, write
from board.ledger.answering import Rung
from board.ledger.backups.catalogue import back_up
from board.ledger.backups.named import Kind
from board.ledger.checking import Right
from board.ledger.facts import PinFacts
from board.ledger.open import Ledger
from board.ledger.ordering import NewOrder
from board.ledger.state import Entry, LoadStage, ProbeWay, Read, WatchEnd, WatchKind, Weight
from board.ledger.times import stamp
from board.ledger.watching import Watched
from board.probes.reading import Fed
from tests.ledger.by_hand import DAY, EVENING, LOADED, brisket, plan

MINUTE = timedelta(minutes=1)
BRISKET, SHOULDER = "1209-brisket-1", "1209-brisket-2"
LUNCH = (DAY, "lunch", "sliced-brisket")
Said = dict[str, object]


@dataclass(frozen=True, slots=True)
class Act:
    """One thing that is done in one transaction, and how many entries it is."""

    name: str
    do: Callable[[Ledger, Said], Entry | list[Entry]]
    entries: int = 1


def act(name: str, what: Callable[..., Entry], *about: object, **more: object) -> Act:
    """The act of calling one function of the ledger."""
    return Act(name, lambda ledger, said: what(ledger, *about, **said, **more))


def both(ledger: Ledger, said: Said) -> list[Entry]:
    """Three temperatures entered at once."""
    reads = [Read(110.0, "north"), Read(3.5, "walk-in"), Read(64.0, None, BRISKET)]
    return write.take_readings(ledger, reads, **said)  # type: ignore[arg-type]


def flush(ledger: Ledger, said: Said) -> list[Entry]:
    """What six probes sent over half a minute."""
    at = said["noted_at"]
    sent = [Fed(f"p{n}", at - n * timedelta(seconds=5), 90.0 + n, place="north") for n in range(6)]  # type: ignore[operator]
    done = feeding.take_fed(ledger, said["who"], sent, noted_at=at)  # type: ignore[arg-type]
    return [done.entry] if done.entry else []


def strike(ledger: Ledger, said: Said) -> Entry:
    """A probe that fell out."""
    until = said["noted_at"]
    return feeding.strike_probe(ledger, "p1", until - timedelta(hours=1), until, "it fell out", **said)  # type: ignore[arg-type, operator]


def backup(ledger: Ledger, said: Said) -> list[Entry]:
    """A copy beside the ledger; no entry."""
    back_up(ledger.path, Kind.ASKED, datetime.now(UTC), ledger.zone)  # by the disk's clock, as it is thinned
    return []


def wrong_reading(ledger: Ledger, said: Said) -> Entry:
    """The last reading was another."""
    last = next(
        e for e in reversed(read.entries(ledger, since_seq=0)) if e.kind == "reading" and not e.undone
    )
    return write.correct(ledger, last.seq, Right(last.data["temperature_c"] + 1, None, "misread"), **said)  # type: ignore[arg-type]


def a_day() -> list[Act]:
    """A day from its plan to its signature, every kind of entry that people make."""
    two = plan(brisket(), brisket(SHOULDER, LOADED + 10 * MINUTE))
    order = NewOrder(DAY, "order-1", "the choir", LOADED + timedelta(hours=17), "sliced-brisket", 20)
    later = LOADED + 30 * MINUTE
    rung = Rung("late/1", 2, "the briskets are late", BRISKET, DAY)
    return [
        act("plan", write.commit_plan, plan()),
        act("light", write.light, "north", 118.0),
        act("rub", write.mark_step, f"{BRISKET}.rub"),
        act("promise", write.set_promise, *LUNCH, 90),
        act("on", write.mark_load, BRISKET, LoadStage.ON),
        act("reading", write.take_reading, 105.0, place="north"),
        Act("readings", both, 3),
        Act("correction", wrong_reading),
        act("note", write.note, "the wind has turned " * 20),
        act("placed", feeding.place_probe, "p2", BRISKET),
        Act("feed", flush),
        Act("struck", strike),
        act("order", write.take_order, order),
        act("plan again", write.commit_plan, two, "an order came"),
        act("undo", write.undo),
        Act("backup", backup, 0),
        act("weigh", write.weigh, "1209-glaze-1", Weight(1, "cider", 1200.0, 1190.0)),
        act("made", write.make_batch, "1209-glaze-1", "L7"),
        act("probe", write.check_probe, "red", ProbeWay.ICE, 0.2, 300.0),
        act("alarm", write.answer_alarm, rung, "more wood"),
        act("move", write.move_load, BRISKET, "south"),
        act("wrapped", write.mark_load, BRISKET, LoadStage.WRAPPED),
        act("pin", write.pin_load, PinFacts(DAY, SHOULDER, "south", None, 110.0, later)),
        act("watch", write.start_watch, Watched(WatchKind.COOLING, "beans", place="walk-in")),
        act("pulled", write.mark_load, BRISKET, LoadStage.PULLED, portions=94),
        act("sale", write.sell, *LUNCH, 12),
        act("watch ended", write.end_watch, "1208-cooling-1", WatchEnd.DISCARDED),
        act("strike", write.strike_order, DAY, "order-1"),
        act("sold out", write.sold_out, *LUNCH),
        act("out", write.put_out, "north"),
        act("handover", write.handover, "all well", told=["nothing is late"]),
        act("signature", write.sign, EVENING - timedelta(hours=6), EVENING + timedelta(hours=1)),
    ]


def anything(luck: Random, *, backups: float = 1.0) -> Iterator[Act]:
    """Acts without an end, of mixed kinds; about that many of a hundred are backups."""
    stages = (LoadStage.ON, LoadStage.WRAPPED, LoadStage.PULLED)
    for n in count():
        degrees = round(luck.uniform(1, 120), 1)
        kinds = {
            "reading": (
                30,
                act("reading", write.take_reading, degrees, place=luck.choice(("north", "south"))),
            ),
            "core": (10, act("core", write.take_reading, degrees, load=BRISKET)),
            "readings": (8, Act("readings", both, 3)),
            "sale": (15, act("sale", write.sell, *LUNCH, luck.randint(1, 9))),
            "promise": (4, act("promise", write.set_promise, *LUNCH, luck.randint(10, 200))),
            "note": (8, act("note", write.note, f"note {n} " + "wind " * luck.randint(0, 60))),
            "mark": (12, act("mark", write.mark_load, luck.choice((BRISKET, SHOULDER)), luck.choice(stages))),
            "light": (4, act("light", write.light, "north", round(degrees) + 60.0)),
            "undo": (8, act("undo", write.undo)),
            "feed": (6, Act("feed", flush)),
            "backup": (backups, Act("backup", backup, 0)),
            "plan": (1, act("plan", write.commit_plan, plan(brisket(), brisket(SHOULDER)), f"again {n}")),
        }
        (name,) = luck.choices(list(kinds), [weight for weight, _ in kinds.values()])
        yield kinds[name][1]


def perform(ledger: Ledger, acts: Iterable[Act], who: str, told: Path, start: datetime = EVENING) -> None:
    """Do one act after the other, telling of each."""
    with paper(told) as out:
        for number, one in enumerate(acts):
            attempt(out, one, ledger, who, start + number * MINUTE / 2)


@contextmanager
def paper(told: Path) -> Iterator[int]:
    """A file beyond the ledger's disk, on which what is said stays though this process be killed."""
    out = os.open(told, os.O_WRONLY | os.O_APPEND | os.O_CREAT, 0o600)
    try:
        yield out
    finally:
        os.close(out)


def attempt(out: int, one: Act, ledger: Ledger, who: str, at: datetime) -> bool:
    """Do one act, and say when it begins and how it ended; whether it was acknowledged.

    Each is a line of JSON: what is tried, then the entries acknowledged or the line that was told.
    """
    say(out, {"who": who, "try": one.name, "entries": one.entries})
    try:
        done = one.do(ledger, {"who": who, "at": at, "noted_at": at})
    except BoardError as error:
        say(out, {"told": str(error)})
        return False
    done = [done] if isinstance(done, Entry) else done
    already = any(entry.already for entry in done)
    say(out, {"acknowledged": [as_row(entry) for entry in done], "already": already})
    return True


def say(out: int, line: dict[str, object]) -> None:
    """One line that stays though this process be killed."""
    os.write(out, json.dumps(line).encode() + b"\n")


def as_row(entry: Entry) -> list[object]:
    """An entry as its row of the table has it."""
    times = (stamp(entry.at), stamp(entry.noted_at))
    return [
        entry.seq,
        *times,
        entry.who,
        entry.kind,
        entry.subject,
        record.canonical(entry.data),
        entry.undoes,
    ]
