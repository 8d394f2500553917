"""Whether a plan that was read from a file holds in each field what it should."""

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from datetime import date, datetime
from enum import Enum
from functools import cache
from math import isfinite
from types import UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

from board.house.years import known_day
from board.planning.plan import Plan


def wrong_in(plan: Plan) -> str:
    """The first field of a plan that holds what no plan can, such as plan.loads.2.pieces; or empty."""
    nothing = (
        f"plan.loads.{n}.{name}"
        for n, load in enumerate(plan.loads)
        for name in ("pieces", "mass_kg")
        if getattr(load, name) <= 0
    )
    return wrong_field(plan, Plan) or next(nothing, "")


def wrong_field(thing: Any, kind: Any, name: str = "plan") -> str:
    """The first field that holds another kind of thing than it should, such as plan.loads.2.pit; or empty."""
    if isinstance(kind, type) and is_dataclass(kind) and isinstance(thing, kind):
        return _first_wrong({f"{name}.{key}": (getattr(thing, key), of) for key, of in _kinds(kind).items()})
    origin, parts = get_origin(kind), get_args(kind)
    if origin in {Union, UnionType}:
        return name if all(wrong_field(thing, part, name) for part in parts) else ""
    if origin is tuple:
        kinds = [parts[0]] * len(thing) if parts[-1] is ... else parts
        if len(kinds) != len(thing):
            return name
        return _first_wrong({f"{name}.{n}": each for n, each in enumerate(zip(thing, kinds, strict=True))})
    if origin is not None and issubclass(origin, Mapping):
        keys = {f"{name}.{key!s}": (key, parts[0]) for key in thing}
        return _first_wrong(keys) or _first_wrong({f"{name}.{k}": (v, parts[1]) for k, v in thing.items()})
    return "" if _is(thing, kind) else name


def _first_wrong(named: Mapping[str, tuple[Any, Any]]) -> str:
    return next((wrong for name, (thing, of) in named.items() if (wrong := wrong_field(thing, of, name))), "")


def _is(thing: Any, kind: Any) -> bool:
    """Whether a plain value is of a plain kind, a number finite and a date within the years a house knows."""
    if kind is float:
        return isinstance(thing, (int, float)) and not isinstance(thing, bool) and isfinite(thing)
    if not isinstance(thing, kind) or (isinstance(thing, bool) and kind is not bool):
        return False
    if isinstance(thing, date):
        return _is_known(thing.date() if isinstance(thing, datetime) else thing)
    return isinstance(thing, Enum) or not isinstance(thing, str) or thing.isprintable()


def _is_known(day: date) -> bool:
    try:
        known_day(day)
    except ValueError:
        return False
    return True


@cache
def _kinds(kind: Any) -> Mapping[str, Any]:
    hints = get_type_hints(kind)
    return {each.name: hints[each.name] for each in fields(kind)}
