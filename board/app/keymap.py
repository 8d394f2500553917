"""The keys a house or a machine has changed, checked before any of them is used."""

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from functools import cached_property
from itertools import combinations
from pathlib import Path
from typing import Any, Self

from textual.keys import key_to_character

from board.app.keys import CALLED, SCOPES, SHARED, Act, called, named
from board.app.settings import Settings
from board.errors import BoardError
from board.house.text_file import is_there, read_text
from board.ledger.open import Ledger

FILE = "keys.toml"
_ALWAYS = {"help": "f1"}  # help is found whatever else was changed; ctrl+q always leaves
_FUNCTION_KEYS = frozenset(f"f{number}" for number in range(1, 13))
_TAKEN = {
    "ctrl+m": "is Enter on most terminals",
    "ctrl+i": "is Tab on most terminals",
    "ctrl+h": "is Backspace on many terminals",
    "ctrl+j": "is Enter on some terminals",
    "ctrl+c": "copies, or stops a program",
    "ctrl+z": "stops a program on many terminals",
    "ctrl+s": "holds the screen on some terminals",
    "ctrl+q": "always leaves the board",
    "tab": "goes to the next list",
    "f1": "always shows help",
}
_ALLOWED = (
    "a letter, a digit, a sign, F1 to F12, Ctrl and a letter, or Enter, Space, Esc, an arrow, Home, PgUp"
)
_NAMED = {shown.lower(): key for key, shown in CALLED.items()} | {key: key for key in CALLED}


@dataclass(frozen=True)
class Keymap:
    """Which acts have other keys than ours; none has while anything is wrong with the changes."""

    changes: Mapping[str, str] = field(default_factory=dict)
    faults: tuple[str, ...] = ()

    @classmethod
    def of(cls, wanted: Mapping[str, object], faults: Iterable[str] = ()) -> Self:
        """The changes that were asked for, or what is wrong with them."""
        wrong = list(faults)
        changes: dict[str, str] = {}
        for id, asked in wanted.items():
            try:
                changes[_known(id)] = _keys(id, asked)
            except _Fault as fault:
                wrong.append(str(fault))
        wrong += () if wrong else clashes(changes)
        return cls({}, tuple(wrong)) if wrong else cls(changes)

    def acts(self, *groups: tuple[Act, ...]) -> tuple[Act, ...]:
        """The acts of some groups with the keys they have now."""
        return tuple(
            replace(act, keys=self.changes[act.id]) if act.id in self.changes else act
            for group in groups
            for act in group
        )

    def key(self, id: str) -> str:
        """The first key of an act as people call it."""
        return self._called[id]

    @cached_property
    def _called(self) -> Mapping[str, str]:
        return {act.id: act.shown_key for act in self.acts(*SCOPES.values())}


def keymap_of(folder: Path | None, settings: Settings) -> Keymap:
    """The keys changed in the house's folder, and over them those changed on this machine."""
    keys, faults = read_keys(folder) if folder else ({}, [])
    return Keymap.of({**keys, **settings.keys}, faults)


def folder_of(ledger: Ledger) -> Path | None:
    """Where a ledger's house has its files."""
    return Path(ledger.house.folder) if ledger.house else None


class _Fault(Exception):  # noqa: N818 - it is what is wrong, told in a sentence, and never leaves this file
    """What is wrong with one change."""


def read_keys(folder: Path) -> tuple[dict[str, object], list[str]]:
    """The keys a house's file changes, and what is wrong with the file; nothing where there is none."""
    path = folder / FILE
    try:
        if not is_there(path):
            return {}, []
        document = tomllib.loads(read_text(path))
    except BoardError as error:
        return {}, [str(error)]
    except (RecursionError, ValueError) as error:
        return {}, [f"{FILE} cannot be read: {error}"]
    keys: Any = document.pop("keys", {})
    odd = [f"{FILE} has only [keys], not [{name}]" for name in document]
    if not isinstance(keys, dict):
        return {}, [*odd, f'{FILE}: write [keys], then lines such as undo = "f9"']
    return keys, odd


def clashes(changes: Mapping[str, str]) -> list[str]:
    """Two acts that would share a key in one view, each pair told once."""
    keymap = Keymap(changes)
    common = [acts for name, acts in SCOPES.items() if name in SHARED]
    found: dict[tuple[str, str, str], str] = {}
    for name, acts in SCOPES.items():
        for one, other in combinations(
            keymap.acts(acts, *(group for group in common if group is not acts)), 2
        ):
            for key in set(one.keys.split(",")) & set(other.keys.split(",")):
                where = "everywhere" if name in SHARED else f"in {name.capitalize()}"
                says = f"{called(key)} would be both {one.id} and {other.id} {where}: give one another key"
                found.setdefault((key, min(one.id, other.id), max(one.id, other.id)), says)
    return list(found.values())


def _known(id: str) -> str:
    ids = [act.id for acts in SCOPES.values() for act in acts]
    if id in ids:
        return id
    near = get_close_matches(id, ids, 1)
    hint = f"did you mean {near[0]}? " if near else ""
    raise _Fault(f"no act is called {id}: {hint}board keys lists them")


def _keys(id: str, asked: object) -> str:
    """The keys asked for one act, as the terminal names them."""
    many = asked if isinstance(asked, list) else asked.split(",") if isinstance(asked, str) else []
    if asked == ",":
        many = [","]
    keys = [_key(id, one) for one in many if one]
    if not keys:
        raise _Fault(f'{id} needs a key, such as {id} = "f9"; it may be {_ALLOWED}')
    always = _ALWAYS.get(id)
    return ",".join(dict.fromkeys([*keys, *([always] if always else [])]))


def _key(id: str, asked: object) -> str:
    text = asked.strip() if isinstance(asked, str) else ""
    key = named(text) if len(text) == 1 else _NAMED.get(text.lower(), text.lower())
    wrong = why_not(key)
    if wrong and _ALWAYS.get(id) != key:
        raise _Fault(f"{id}: {called(key) or asked} {wrong}; it may be {_ALLOWED}")
    return key


def why_not(key: str) -> str:
    """Why a key, as the terminal names it, can be given to no act; empty where it can."""
    if key in _TAKEN:
        return _TAKEN[key]
    letter = key.removeprefix("ctrl+")
    with_ctrl = key.startswith("ctrl+") and len(letter) == 1 and letter.isascii() and letter.isalpha()
    sign = key_to_character(key)
    plain = sign is not None and sign.isprintable() and not sign.isspace()
    named = key in _FUNCTION_KEYS or key in CALLED
    return "" if plain or with_ctrl or named else "is no key that can be counted on"
