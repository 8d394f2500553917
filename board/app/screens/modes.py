"""The views, each imported as it is first shown."""

from collections.abc import Callable, Mapping
from functools import partial
from importlib import import_module
from types import MappingProxyType
from typing import Any

from textual.screen import Screen

VIEWS: Mapping[str, str] = MappingProxyType(
    {
        "opening": "OpeningScreen",
        "tomorrow": "TomorrowScreen",
        "service": "ServiceScreen",
        "batches": "BatchesScreen",
        "record": "RecordScreen",
        "wall": "WallScreen",
    }
)


def screen_class(name: str) -> type[Screen[None]]:
    """The class of a view."""
    found: type[Screen[None]] = getattr(import_module(f"board.app.screens.{name}"), VIEWS[name])
    return found


def _new(name: str) -> Screen[None]:
    return screen_class(name)()


MODES: dict[str, str | Callable[[], Screen[Any]]] = {name: partial(_new, name) for name in VIEWS}
