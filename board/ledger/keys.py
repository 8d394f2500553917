"""What an entry bears on: the loads, steps, batches, weighings, uses, pits, promises, sales, … it changes."""

from collections.abc import Callable, Mapping
from datetime import date
from typing import Any, NamedTuple

from board.ledger.state import Entry


class Key(NamedTuple):
    """One thing whose state the ledger keeps. `day` is the planned day, empty where there is none."""

    family: str
    day: str
    id: str


def load_key(day: date | str, load: str) -> Key:
    """The key of a load of a planned day."""
    return Key("load", str(day), load)


def step_key(day: date | str, step: str) -> Key:
    """The key of a step of a planned day."""
    return Key("step", str(day), step)


def batch_key(day: date | str, batch: str) -> Key:
    """The key of a batch of a planned day."""
    return Key("batch", str(day), batch)


def pit_key(pit: str) -> Key:
    """The key of a pit."""
    return Key("pit", "", pit)


def pin_key(day: date | str, load: str) -> Key:
    """The key of a pin of a load of a planned day."""
    return Key("pin", str(day), load)


def occasion_key(day: date | str, service: str) -> Key:
    """The key of what was changed of a serving time of a day."""
    return Key("occasion", str(day), service)


def regroup_key(day: date | str, seq: int) -> Key:
    """The key of a wish to split or join loads of a day, by its entry's number."""
    return Key("regroup", str(day), str(seq))


def weighing_key(day: date | str, batch: str, line: int) -> Key:
    """The key of a line of the recipe of a batch of a planned day."""
    return Key("weighing", str(day), f"{batch}/{line}")


def use_key(day: date | str, step: str, batch: str) -> Key:
    """The key of what a step of a planned day takes of a batch."""
    return Key("use", str(day), f"{step}/{batch}")


def watch_key(watch: str) -> Key:
    """The key of a watch."""
    return Key("watch", "", watch)


def alarm_key(alarm: str) -> Key:
    """The key of what was said to an alarm."""
    return Key("alarm", "", alarm)


def reading_key(seq: int) -> Key:
    """The key of a reading, by its entry's number."""
    return Key("reading", "", str(seq))


def placing_key(seq: int) -> Key:
    """The key of a probe put into a load, by its entry's number."""
    return Key("placing", "", str(seq))


def struck_key(seq: int) -> Key:
    """The key of a span struck from what a probe fed, by its entry's number."""
    return Key("struck", "", str(seq))


def menu_key(family: str, day: date | str, service: str, item: str) -> Key:
    """The key of a promise or of the sales of an item at a service."""
    return Key(family, str(day), f"{service}/{item}")


def borne_on(entry: Entry) -> tuple[Key, ...]:
    """The keys that one entry bears on; an undo bears on those of what it takes back.

    A plan's keys come from its document instead: see `planned_keys`.
    """
    if entry.kind == "undo":
        return _keys(entry.undoes or 0, entry.data["kind"], entry.subject, entry.data["data"])
    return _keys(entry.seq, entry.kind, entry.subject, entry.data)


def planned_keys(document: Mapping[str, Any]) -> frozenset[Key]:
    """The loads, steps and batches that a plan document names."""
    day = document["day"]
    return frozenset(
        Key(family, day, piece["id"])
        for family, pieces in (("load", "loads"), ("step", "steps"), ("batch", "batches"))
        for piece in document[pieces]
    )


def _keys(seq: int, kind: str, subject: str, data: Mapping[str, Any]) -> tuple[Key, ...]:
    if kind == "reading":
        return (reading_key(seq),)
    if kind == "placed":
        return (placing_key(seq),)
    if kind == "struck":
        return (struck_key(seq),)
    if kind in ("split", "join"):
        return (regroup_key(data["day"], seq),)
    bears = BEARS.get(kind)
    step = (step_key(data["day"], data["step"]),) if "step" in data else ()
    return (*bears(subject, data), *step) if bears else ()


def _load(subject: str, data: Mapping[str, Any]) -> tuple[Key, ...]:
    return (load_key(data["day"], subject),)


def _step(subject: str, data: Mapping[str, Any]) -> tuple[Key, ...]:
    load = (load_key(data["day"], data["load"]),) if "stage" in data else ()
    uses = (use_key(data["day"], subject, one["batch"]) for one in data.get("took", ()))
    return (step_key(data["day"], subject), *load, *uses)


def _batch(subject: str, data: Mapping[str, Any]) -> tuple[Key, ...]:
    return (batch_key(data["day"], subject),)


def _weighed(subject: str, data: Mapping[str, Any]) -> tuple[Key, ...]:
    return (weighing_key(data["day"], subject, data["line"]),)


def _pit(subject: str, _: Mapping[str, Any]) -> tuple[Key, ...]:
    return (pit_key(subject),)


def _pin(subject: str, data: Mapping[str, Any]) -> tuple[Key, ...]:
    return (pin_key(data["day"], subject),)


def _promise(_: str, data: Mapping[str, Any]) -> tuple[Key, ...]:
    return (menu_key("promise", data["day"], data["service"], data["item"]),)


def _occasion(subject: str, data: Mapping[str, Any]) -> tuple[Key, ...]:
    line = _promise(subject, data) if "item" in data else ()
    return (occasion_key(data["day"], subject), *line)


def _sale(_: str, data: Mapping[str, Any]) -> tuple[Key, ...]:
    loads = (load_key(part["day"], part["load"]) for part in data.get("from", ()))
    return (menu_key("sale", data["day"], data["service"], data["item"]), *loads)


def _watch(subject: str, _: Mapping[str, Any]) -> tuple[Key, ...]:
    return (watch_key(subject),)


def _alarm(subject: str, _: Mapping[str, Any]) -> tuple[Key, ...]:
    return (alarm_key(subject),)


def _correction(subject: str, data: Mapping[str, Any]) -> tuple[Key, ...]:
    """What the entry that it corrects bears on; words and probe checks bear on nothing."""
    return _keys(data["entry"], data["of"], subject, data.get("data", {}))


BEARS: Mapping[str, Callable[[str, Mapping[str, Any]], tuple[Key, ...]]] = {
    "load": _load,
    "move": _load,
    "step": _step,
    "batch": _batch,
    "weighed": _weighed,
    "light": _pit,
    "out": _pit,
    "promise": _promise,
    "order": _occasion,
    "due": _occasion,
    "strike": _occasion,
    "pin": _pin,
    "unpin": _pin,
    "sale": _sale,
    "sold out": _sale,
    "watch": _watch,
    "watch ended": _watch,
    "frozen": _watch,
    "thawed": _watch,
    "correction": _correction,
    "answered": _alarm,
    "put off": _alarm,
}
