"""What a person may put into the record: names, text, times and temperatures, checked in one line."""

import unicodedata
from dataclasses import dataclass
from datetime import datetime, timedelta

from board.errors import LedgerError
from board.ledger.open import Ledger

LONGEST_TEXT = 500
LONGEST_NAME = 80
AHEAD = timedelta(minutes=5)  # clocks of two devices may differ by this much
HEAVIEST_G = 1_000_000.0  # of one ingredient
COLDEST_C, HOTTEST_C = -40.0, 400.0  # what a kitchen probe can have seen
COOLEST_FIRE_C = 30.0  # asked of a pit: a smoker of cold fish runs no cooler

# Characters that reorder the text around them on a screen (Unicode Standard Annex 9).
REORDERING = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


@dataclass(frozen=True, slots=True)
class Said:
    """Who says that something happened, when it happened, and when that was written down."""

    who: str
    at: datetime
    noted_at: datetime


def said(ledger: Ledger, who: str, at: datetime, noted_at: datetime) -> Said:
    """Check who and when.

    Raises:
        LedgerError: no name, or a time that is still to come.
    """
    if at.tzinfo is None or noted_at.tzinfo is None:
        raise ValueError("times in the ledger need their zone")
    if at > noted_at + AHEAD:
        raise LedgerError(
            f"{ledger.clock_beside(at, noted_at)} is still to come; it is {ledger.clock(noted_at)} now"
        )
    return Said(name(who, "who did it (--who)"), at, noted_at)


def name(text: str, what: str, longest: int = LONGEST_NAME) -> str:
    """A name on one line, not empty and not too long."""
    kept = " ".join(inert(text).split())
    if not any(map(_seen, kept)):
        raise LedgerError(f"the name of {what} is missing")
    if len(kept) > longest:
        raise LedgerError(f"the name of {what} has {len(kept)} letters; up to {longest} are kept")
    return kept


def text(typed: str, what: str) -> str:
    """What somebody wrote, as written but inert; not empty and not too long."""
    kept = inert(typed).strip()
    if not kept:
        raise LedgerError(f"the {what} is empty; write something or leave it")
    if len(kept) > LONGEST_TEXT:
        raise LedgerError(f"the {what} has {len(kept)} letters; up to {LONGEST_TEXT} are kept")
    return kept


def inert(typed: str) -> str:
    """The text without what a terminal would obey: controls, reordering marks, broken characters."""
    return "".join(c for c in typed.replace("\t", " ") if c == "\n" or not _obeyed(c))


def _obeyed(c: str) -> bool:
    return unicodedata.category(c) in {"Cc", "Cs", "Zl", "Zp"} or c in REORDERING


def _seen(c: str) -> bool:
    """Whether a letter, figure, mark or sign shows by itself, as a space of no width does not."""
    return unicodedata.category(c)[0] in "LNPS"


def temperature(temperature_c: float) -> float:
    """A temperature that a kitchen probe can have seen, in °C."""
    if not COLDEST_C <= temperature_c <= HOTTEST_C:
        allowed = f"from {COLDEST_C:g} to {HOTTEST_C:g} °C is recorded"
        raise LedgerError(f"{temperature_c:g} °C is no kitchen temperature; {allowed}")
    return float(temperature_c)


def grams(mass_g: float) -> float:
    """What a kitchen scale can have shown, in grams."""
    if not 0.0 < mass_g <= HEAVIEST_G:
        raise LedgerError(f"{mass_g:g} g cannot be weighed here; more than 0 g and up to 1000 kg can")
    return round(float(mass_g), 3)


def setpoint(celsius: float) -> float:
    """A temperature that a pit can be asked for, in °C."""
    if celsius < COOLEST_FIRE_C:
        raise LedgerError(
            f"no pit is asked for {celsius:.0f} °C; {COOLEST_FIRE_C:g} to {HOTTEST_C:g} °C can be"
        )
    return temperature(celsius)


def portions(count: int, lowest: int) -> int:
    """A number of portions from `lowest` up."""
    if not lowest <= count <= 100_000:
        raise LedgerError(f"{count} portions cannot be recorded; from {lowest} to 100000 can")
    return int(count)
