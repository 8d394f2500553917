"""What happened since the last handover, in the order in which a person should hear it."""

from collections.abc import Sequence
from dataclasses import dataclass

from board.house.wording import count, duration
from board.ledger.state import BatchStage, Entry
from board.views import names
from board.views.facts import Facts
from board.views.happened import batch_name, behind_plan, falls, say_fall, sentence, weight
from board.views.text import Tone

LATE_MINUTES = 15
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
    batches and the smaller jobs are summed up, and readings are left to the Record.
    """
    kept = [e for e in facts.since if not e.undone and e.undoes is None]
    falls_told = [
        Happened(str(f.seq), names.clock(facts.house, f.at), say_fall(facts, f), _by(facts, f.who), Tone.CARE)
        for f in falls(facts, kept)
    ]
    told = [_happened(facts, entry) for entry in kept if entry.kind in _TOLD and not _of_time(entry)]
    done = [_happened(facts, entry) for entry in kept if entry.kind == "load"]
    done += [_happened(facts, entry) for entry in kept if entry.data.get("stage") == BatchStage.DISCARDED]
    wrong = [line for line in done if line.tone is not Tone.PLAIN]
    right = [line for line in done if line.tone is Tone.PLAIN]
    first = sorted([*falls_told, *wrong], key=lambda line: int(line.key))
    return [*first, *reversed(told), *right, *_summed_up(facts, kept)]


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
    """Batches made in one sentence, and the number of smaller jobs done in another."""
    made = [e for e in entries if e.kind == "batch" and e.data.get("stage") == BatchStage.MADE]
    jobs = [e for e in entries if e.kind == "step"]
    lines = []
    if made:
        called = names.listed(list(dict.fromkeys(batch_name(facts, e) for e in made)))
        lines.append(Happened("made", "", f"made: {called}", "", Tone.PLAIN))
    if jobs:
        lines.append(
            Happened("jobs", "", f"{count(len(jobs), 'smaller job')} done: see Record", "", Tone.QUIET)
        )
    return lines
