"""What happened since the last handover, in the order in which a person should hear it."""

from collections.abc import Sequence
from dataclasses import dataclass

from board.house.wording import count, duration
from board.ledger.state import BatchStage, Entry, LoadStage
from board.safety.limits import cold_hold_most_c, hot_hold_least_c
from board.views import names
from board.views.facts import Facts
from board.views.gather import WALK_IN
from board.views.happened import batch_name, behind_plan, falls, say_fall, sentence, weight
from board.views.subjects import reading_c
from board.views.text import Tone

LATE_MINUTES = 15
SEE_RECORD = ": see Record"
_WATCHED = ("watch", "watch ended", "action", "correction")
_TOLD = frozenset({"note", "handover", "sold out", "plan", "out", *_WATCHED})


@dataclass(frozen=True, slots=True)
class Happened:
    """One line since the last handover."""

    key: str
    clock: str
    says: str
    who: str
    tone: Tone
    note: bool = False


def happened(facts: Facts) -> list[Happened]:
    """What was recorded since the last handover, without what was taken back.

    What went wrong comes first, by time, then what was told, the latest first, then the meat's own steps;
    batches, several loads that were served, the smaller jobs and readings are summed up.
    """
    kept = [e for e in facts.since if not e.undone and e.undoes is None]
    falls_told = [
        Happened(str(f.seq), names.clock(facts.house, f.at), say_fall(facts, f), _by(facts, f.who), Tone.CARE)
        for f in falls(facts, kept)
    ]
    told = [_happened(facts, entry) for entry in kept if entry.kind in _TOLD and not _of_time(entry)]
    served = _served(kept)
    done = [_happened(facts, entry) for entry in kept if entry.kind == "load" and entry not in served]
    done += [_happened(facts, entry) for entry in kept if entry.data.get("stage") == BatchStage.DISCARDED]
    wrong = [line for line in done if line.tone is not Tone.PLAIN]
    right = [line for line in done if line.tone is Tone.PLAIN]
    first = sorted([*falls_told, *wrong], key=lambda line: int(line.key))
    return [*first, *reversed(told), *right, *_summed_up(facts, kept)]


def _served(entries: Sequence[Entry]) -> list[Entry]:
    """The loads that were said to be served, where they are several, as at closing."""
    served = [e for e in entries if e.kind == "load" and e.data.get("stage") == LoadStage.SERVED]
    return served if len(served) > 1 else []


def _of_time(entry: Entry) -> bool:
    """Whether an entry only puts a time right; what it is about is told at that time."""
    return entry.kind == "correction" and not {"temperature_c", "text"} & entry.data.keys()


def _happened(facts: Facts, entry: Entry) -> Happened:
    clock, behind = names.clock(facts.house, entry.at), behind_plan(facts, entry)
    says, tone = sentence(facts, entry), weight(entry)
    if behind >= LATE_MINUTES:
        says, tone = f"{says}, {duration(behind)} after plan", Tone.CARE
    note = entry.kind in ("note", "handover")
    return Happened(str(entry.seq), clock, says, _by(facts, entry.who), tone, note)


def _by(facts: Facts, who: str) -> str:
    return names.person_name(facts.house, who)


def _summed_up(facts: Facts, entries: Sequence[Entry]) -> list[Happened]:
    """Batches made in one sentence, how many loads were served and smaller jobs done in others."""
    made = [e for e in entries if e.kind == "batch" and e.data.get("stage") == BatchStage.MADE]
    jobs = [e for e in entries if e.kind == "step"]
    lines = []
    if made:
        called = names.listed(list(dict.fromkeys(batch_name(facts, e) for e in made)))
        lines.append(Happened("made", "", f"{called} made", "", Tone.PLAIN))
    if served := _served(entries):
        says = f"{count(len(served), 'load')} served{SEE_RECORD}"
        lines.append(Happened("served", "", says, "", Tone.QUIET))
    if jobs:
        lines.append(
            Happened("jobs", "", f"{count(len(jobs), 'smaller job')} done{SEE_RECORD}", "", Tone.QUIET)
        )
    readings = [e for e in entries if e.kind == "reading"]
    return [*lines, _readings(facts, readings)] if readings else lines


def _readings(facts: Facts, readings: Sequence[Entry]) -> Happened:
    """How many temperatures were read, and whether pits, holds and the walk-in were all in their range."""
    judged = [found for entry in readings if (found := _in_range(facts, entry)) is not None]
    out = judged.count(False)
    says, tone = count(len(readings), "reading"), Tone.QUIET
    if out:
        says, tone = f"{says}, {out} out of range{SEE_RECORD}", Tone.CARE
    elif judged:
        says = f"{says}, {'all' if len(judged) == len(readings) else 'pits, holds and walk-in'} in range"
    return Happened("readings", "", says, "", tone)


def _in_range(facts: Facts, entry: Entry) -> bool | None:
    """Whether a pit was within its band, a hold or the walk-in within its limit; None of all else."""
    pit, state = facts.house.pits.get(entry.subject), facts.pits.get(entry.subject)
    celsius = reading_c(facts, entry)
    if pit is not None and state is not None and state.setpoint_c is not None:
        asked = [setpoint for at, setpoint in facts.asked.get(pit.id, ()) if at <= entry.at]
        return abs(celsius - (asked[-1] if asked else state.setpoint_c)) <= pit.control_band_c
    place = facts.house.jurisdiction
    if entry.subject == WALK_IN:
        return celsius <= cold_hold_most_c(place)
    hold = facts.house.holds.get(entry.subject)
    return celsius >= hot_hold_least_c(place=place) if hold and hold.setpoint_c is not None else None
