"""Since when somebody has to be told what happened: since they were last there themselves."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from board.house.calendar import on_shift
from board.ledger.state import Entry
from board.views import names
from board.views.days import when
from board.views.facts import Facts
from board.views.gather import JUST_SIGNED, LOOK_BACK

_EARLY = timedelta(hours=1)  # before their shift people look in already; common practice, no source
_SETTLED = timedelta(hours=2)  # into a shift one has heard of what was before it; common practice, no source


@dataclass(frozen=True, slots=True)
class Away:
    """From which moment on somebody was away, how that is said, and what was recorded since."""

    since: datetime | None
    says: str
    entries: tuple[Entry, ...]


def away(facts: Facts, who: str) -> Away:
    """Since when this person was away: since their last shift ended, or what they last entered before now.

    Hours into a shift it is what was recorded since it began. Who was not there in the time that is looked
    back over is told all since the handover before it was just signed, or all there is.
    """
    if not who:
        says = f"Since {names.clock(facts.house, facts.since_at)}" if facts.since_at else "So far"
        return Away(facts.since_at, says, facts.since)
    begun = _shift_began(facts, who)
    if begun is not None and facts.now - begun >= _SETTLED:
        return Away(begun, f"Since you came, {when(facts, begun)}", _after(facts, begun))
    came = came_at(facts, who)
    known = [*_shifts_ended(facts, who, came), *_entered(facts, who, came)]
    if known:
        since, words = max(known, key=lambda one: one[0])
        return Away(since, f"Since {words}, {when(facts, since)}", _after(facts, since))
    return _since_signed(facts)


def came_at(facts: Facts, who: str) -> datetime:
    """When this person came: with the shift they are on, or lately."""
    begun = _shift_began(facts, who)
    return begun - _EARLY if begun is not None else facts.now - JUST_SIGNED


def _shift_began(facts: Facts, who: str) -> datetime | None:
    """When the shift began that this person is on now."""
    here = [came for person, came, _, _ in on_shift(facts.house, facts.now, facts.now) if person == who]
    return min(here, default=None)


def _shifts_ended(facts: Facts, who: str, came: datetime) -> list[tuple[datetime, str]]:
    shifts = on_shift(facts.house, facts.now - LOOK_BACK, facts.now)
    return [(went, "you left") for person, _, went, _ in shifts if person == who and went <= came]


def _entered(facts: Facts, who: str, came: datetime) -> list[tuple[datetime, str]]:
    own = [e for e in facts.recent if e.who == who and e.noted_at <= came and not e.undone]
    return [(e.noted_at, "you handed over" if e.kind == "handover" else "your last entry") for e in own]


def _since_signed(facts: Facts) -> Away:
    signed = [e for e in facts.recent if e.kind == "handover" and e.at == facts.since_at]
    if signed and facts.since_at is not None:
        signer = names.person_name(facts.house, signed[-1].who)
        return Away(facts.since_at, f"Since {signer} handed over, {when(facts, facts.since_at)}", facts.since)
    hours = round(LOOK_BACK / timedelta(hours=1))
    return Away(None, f"In the last {hours} h", facts.recent)


def _after(facts: Facts, since: datetime) -> tuple[Entry, ...]:
    return tuple(e for e in facts.recent if e.noted_at > since)
