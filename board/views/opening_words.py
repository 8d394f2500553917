"""What the lists of the Opening view amount to, each in a sentence for its title."""

from collections.abc import Sequence

from board.house.wording import count
from board.views import names
from board.views.guidance import Key
from board.views.opening import BatchDue, Cover, Opening, Standing
from board.views.progress import Risk
from board.views.text import Cell, Tone

_WORDS = {Risk.LATE: "late ▲", Risk.MAYBE_LATE: "may be late ?", Risk.IN_TIME: "in time"}


def stands(standing: Sequence[Standing]) -> str:
    """How the loads stand: `10 loads: 1 late ▲, 1 may be late ?, 8 in time`."""
    if not standing:
        return ""
    risks = [one.risk for one in standing]
    told = [f"{risks.count(risk)} {word}" for risk, word in _WORDS.items() if risk in risks]
    if len(told) == 1:
        return f"{count(len(risks), 'load')}, {'all ' if len(risks) > 1 else ''}{_WORDS[risks[0]]}"
    return f"{count(len(risks), 'load')}: {', '.join(told)}"


def used_when(batches: Sequence[BatchDue]) -> str:
    """For when the batches are: `2 for today, 7 later`."""
    today = sum(1 for batch in batches if batch.day == "today")
    told = [f"{today} for today"] if today else []
    return ", ".join([*told, f"{len(batches) - today} later"] if len(batches) > today else told)


def covered(cover: Sequence[Cover]) -> list[Cell]:
    """Whether a service has enough, in a line or two: what comes late, what no load brings, the rest."""
    late = [f"{one.late} {one.item}" for one in cover if one.late]
    short = [f"{one.short} {one.item}" for one in cover if one.short]
    enough = sum(1 for one in cover if not one.late and not one.short and not one.sold_out)
    cells = [Cell(f"{names.listed(short)} short ▲", Tone.LATE)] if short else []
    cells += [Cell(f"{names.listed(late)} late ▲", Tone.LATE)] if late else []
    gone = [one.item for one in cover if one.sold_out]
    if gone:
        cells.append(Cell(f"sold out {names.listed(gone)}", Tone.QUIET))
    if not cells:
        every = "all of it" if enough == 1 else f"all {count(enough, 'item')}"
        return [Cell(f"enough of {every}", Tone.GOOD)] if enough else []
    return [*cells, Cell(f"enough of the other {enough}", Tone.GOOD)] if enough else cells


def whose(view: Opening, name: str, key: Key, *, mine: bool) -> str:
    """Whose work is shown, and the key that changes it."""
    hidden = sum(1 for one in view.next if not one.mine)
    if mine:
        return f"{name}'s, nobody's, overdue ({key('mine')} everyone's)"
    return f"everyone's ({key('mine')} {name}'s)" if hidden else ""
