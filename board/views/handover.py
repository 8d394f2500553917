"""What one shift tells the next, composed from how things stand: it is read, added to and signed."""

from collections.abc import Iterator
from dataclasses import replace

from board.views import names
from board.views.do_next import Next
from board.views.facts import Facts
from board.views.opening import Opening, Standing
from board.views.presence import came_at
from board.views.progress import Risk
from board.views.story import SEE_RECORD, happened
from board.views.text import Tone

AS_IT_STANDS = "All is as it stands."
_MOST = 5  # of one sort; the board has all of them
_BAD = (Tone.LATE, Tone.CARE)


def draft(facts: Facts, view: Opening, who: str) -> tuple[str, ...]:
    """The sentences the next shift reads: what went wrong, what is late, what is open, what was told."""
    told = [*_wrong(facts, who), *view.warnings[:_MOST], *_late(view), *_short(view), *_open(view)]
    return tuple(told) or ("Nothing went wrong, nothing is late and nothing is short.",)


def _wrong(facts: Facts, who: str) -> Iterator[str]:
    """What went wrong since this person came, or was noted; the rest in a few words."""
    came = came_at(facts, who)
    lines = happened(replace(facts, since=tuple(e for e in facts.recent if e.at >= came)))
    for line in [one for one in lines if one.tone in _BAD or one.note][:_MOST]:
        yield f"{line.clock} {line.says} ({line.who})".strip()
    routine = [one.says.removesuffix(SEE_RECORD) for one in lines if not one.clock]
    if routine:
        yield f"Also recorded: {'; '.join(routine)}."


def _late(view: Opening) -> Iterator[str]:
    for load in [one for one in view.standing if one.risk is not Risk.IN_TIME][:_MOST]:
        yield _stands(load)


def _stands(load: Standing) -> str:
    helps = f"; {load.remedy}" if load.remedy else ""
    return f"{load.meat} on {load.pit}: {load.word or 'may be late'}{helps}."


def _short(view: Opening) -> Iterator[str]:
    late = [f"{one.late} {one.item}" for one in view.cover if one.late]
    short = [f"{one.short} {one.item}" for one in view.cover if one.short]
    if late:
        yield f"{view.service}: {names.listed(late)} come late."
    if short:
        yield f"{view.service}: short of {names.listed(short)}."


def _open(view: Opening) -> Iterator[str]:
    """What should be done already, and the first things then."""
    overdue = [one for one in view.next if one.tone is Tone.LATE]
    if overdue:
        more = f" and {len(overdue) - _MOST} more" if len(overdue) > _MOST else ""
        yield f"Not done yet: {names.listed([_due(one) for one in overdue[:_MOST]])}{more}."
    late = [batch.name for batch in view.batches if batch.tone is Tone.LATE]
    if late:
        yield f"To make, and late: {names.listed(late)}."
    ahead = [one for one in view.next if one.tone is not Tone.LATE][:3]
    if ahead:
        yield f"Next: {', '.join(f'{one.clock} {one.short}' for one in ahead)}."


def _due(one: Next) -> str:
    return f"{one.short} ({one.clock})"
