"""How well a name answers to what is typed: its own words first, then others, then letters in order."""

from collections.abc import Iterable
from typing import TypeVar

from board.house.searching import has_all, words_of

Thing = TypeVar("Thing")
_LETTERS = 3  # fewer letters in order would be found in nearly every name


def rank(typed: str, name: str, about: str = "") -> int | None:
    """How far a thing is from what is typed, 0 the nearest; None when it is not meant."""
    wanted = words_of(typed)
    if not wanted:
        return 0
    own, more = words_of(name), words_of(about)
    if has_all(wanted, own):
        return 0 if own[: len(wanted)] == wanted else 1
    if has_all(wanted, (*own, *more)):
        return 2
    letters = "".join(wanted)
    return 3 if len(letters) >= _LETTERS and _in_order(letters, "".join(own)) else None


def nearest(typed: str, things: Iterable[tuple[Thing, str, str]]) -> list[Thing]:
    """The things that are meant, the nearest first, else in their own order; each with its name and more."""
    ranked = [(rank(typed, name, about), thing) for thing, name, about in things]
    meant = [(place, thing) for place, thing in ranked if place is not None]
    return [thing for _, thing in sorted(meant, key=lambda pair: pair[0])]


def _in_order(letters: str, text: str) -> bool:
    rest = iter(text)
    return all(letter in rest for letter in letters)
