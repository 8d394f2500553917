"""What is said back to alarms: which are quiet and why, the usual reasons, and until when one is put off."""

from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass
from datetime import datetime, timedelta

from board.house.calendar import on_shift
from board.ledger.facts import AlarmFacts
from board.views import names
from board.views.alarm import Alarm, AlarmKind, spell
from board.views.days import when
from board.views.facts import Facts
from board.views.text import Cell, Tone, inert

_SIGNS = {Tone.LATE: "▲", Tone.CARE: "△"}
ALL = "all/"
_FOLD_ABOVE = 3  # so many of one kind are told one by one
_SEVERAL: Mapping[AlarmKind, str] = {
    AlarmKind.CLOCK: "clocks wrong",
    AlarmKind.RULE: "foods outside their rule",
    AlarmKind.LATE: "loads late",
    AlarmKind.PIT: "pits to look at",
    AlarmKind.HOLD: "loads held long",
    AlarmKind.BATCH: "batches to begin",
    AlarmKind.CHECK: "readings and checks overdue",
    AlarmKind.PROBE: "probes off",
    AlarmKind.BACKUP: "backups missing",
    AlarmKind.SILENT: "probes silent",
    AlarmKind.ASIDE: "feeds with messages set aside",
}
_SHORTER = (("15 min", timedelta(minutes=15)), ("1 h", timedelta(hours=1)))
_NEXT_SHIFT = timedelta(days=2)  # ahead in which the next one is looked for

REASONS: Mapping[AlarmKind, tuple[str, ...]] = {
    AlarmKind.CLOCK: ("looked at: seen to soon",),
    AlarmKind.RULE: ("reheated, then read again", "chilled at once, then read again", "discarded"),
    AlarmKind.LATE: ("another load goes first", "the service knows and waits", "seen to: read again soon"),
    AlarmKind.PIT: ("fire seen to, coming back", "the door stood open", "the probe was not in the air"),
    AlarmKind.HOLD: ("served first from now on", "looked at: still good", "set aside"),
    AlarmKind.BATCH: ("begun now", "not needed any more", "the day is planned again"),
    AlarmKind.CHECK: ("being read now", "nothing of it is left", "read on paper, entered later"),
    AlarmKind.PROBE: ("set right and checked again", "out of use"),
    AlarmKind.BACKUP: ("the stick comes with the next shift", "looked at: seen to soon"),
    AlarmKind.SILENT: ("read by hand until it sends again", "being seen to", "out of use"),
    AlarmKind.ASIDE: ("read by hand until it is right", "being seen to", "no probe of ours"),
}


@dataclass(frozen=True, slots=True)
class Folded:
    """One line of alarms: one of them, or several of a kind in one sentence."""

    says: str
    tone: Tone
    count: int
    short: str = ""

    @property
    def cell(self) -> Cell:
        """The line with its sign; where room is short, what is wrong without what to do."""
        mark = sign(self.tone)
        return Cell(f"{mark} {self.says}", self.tone, short=f"{mark} {self.short}" if self.short else "")


@dataclass(frozen=True, slots=True)
class PutOff:
    """One choice of how long to put an alarm off."""

    name: str
    until: datetime


def sign(tone: Tone) -> str:
    """The glyph of an alarm's colour: red is late or outside a rule, yellow to be minded."""
    return _SIGNS.get(tone, "·")


def answer_to(facts: Facts, alarm: Alarm) -> AlarmFacts | None:
    """What keeps an alarm quiet now; None where nothing does, or it has got worse since."""
    said = facts.answers.get(alarm.key)
    if said is None or said.level < alarm.level or (said.until is not None and said.until <= facts.now):
        return None
    return said


def loud(facts: Facts, alarms: Sequence[Alarm]) -> tuple[Alarm, ...]:
    """The alarms that nobody has answered or put off."""
    return tuple(alarm for alarm in alarms if answer_to(facts, alarm) is None)


def said_back(facts: Facts, answer: AlarmFacts) -> str:
    """What somebody said to an alarm: `put off by Ines until 06:15`."""
    who = names.person_name(facts.house, answer.who)
    if answer.until is not None:
        return f"put off by {who} until {when(facts, answer.until)}"
    return f"answered by {who} at {when(facts, answer.at)}: {inert(answer.why or '')}"


def folded(alarms: Sequence[Alarm]) -> list[Folded]:
    """The alarms in lines: more than three of one kind are one sentence, where the first of them stood."""
    lines: list[Folded] = []
    told: set[AlarmKind] = set()
    for alarm in alarms:
        if not is_folded(alarms, alarm.kind):
            lines.append(Folded(alarm.whole, alarm.tone, 1, alarm.says))
        elif alarm.kind not in told:
            told.add(alarm.kind)
            number = sum(1 for one in alarms if one.kind is alarm.kind)
            says = f"{several(alarm.kind, number)}, first {alarm.says}"
            lines.append(Folded(says, alarm.tone, number))
    return lines


def several(kind: AlarmKind, number: int) -> str:
    """So many alarms of one kind, in words."""
    return f"{number} {_SEVERAL[kind]}"


def is_folded(alarms: Sequence[Alarm], kind: AlarmKind) -> bool:
    """Whether so many alarms of one kind stand that they are told in one sentence."""
    return sum(1 for alarm in alarms if alarm.kind is kind) > _FOLD_ABOVE


def chosen(facts: Facts, alarms: Sequence[Alarm], key: str) -> tuple[Alarm, ...]:
    """The alarm of a line, or all loud ones of a kind where the line is about them all."""
    if key.startswith(ALL):
        return tuple(one for one in loud(facts, alarms) if one.kind == key.removeprefix(ALL))
    return tuple(one for one in alarms if one.key == key)


def listen(facts: Facts, alarms: Sequence[Alarm], heard: Set[str]) -> tuple[frozenset[str], bool]:
    """What has been heard after these alarms, and whether one of them rings.

    A trouble rings once, again when it is worse, and when it comes back from being put off; one more of
    a kind that is folded already does not.
    """
    before = [alarm for alarm in alarms if _sound(facts, alarm) in heard]
    new = [
        alarm
        for alarm in loud(facts, alarms)
        if _sound(facts, alarm) not in heard and not is_folded(before, alarm.kind)
    ]
    standing = {alarm.key for alarm in alarms}
    kept = {sound for sound in heard if sound.partition("|")[0] in standing}
    return frozenset(kept | {_sound(facts, alarm) for alarm in alarms}), bool(new)


def _sound(facts: Facts, alarm: Alarm) -> str:
    """What is heard of an alarm: at which level, and once more when its time is over."""
    said = facts.answers.get(alarm.key)
    until = said.until if said is not None and said.level >= alarm.level else None
    again = spell(until) if until is not None and until <= facts.now else ""
    return f"{alarm.key}|{alarm.level}|{again}"


def in_a_line(alarms: Sequence[Alarm]) -> list[Cell]:
    """The worst of what is loud for one line, and how many more there are; nothing where all is quiet."""
    lines = folded(alarms)
    if not lines:
        return []
    more = sum(line.count for line in lines) - lines[0].count
    return [lines[0].cell, Cell(f"{more} more", Tone.QUIET)] if more else [lines[0].cell]


def put_offs(facts: Facts) -> list[PutOff]:
    """For how long an alarm may be put off: a quarter of an hour, an hour, till the next shift comes."""
    found = [PutOff(name, facts.now + length) for name, length in _SHORTER]
    shifts = on_shift(facts.house, facts.now, facts.now + _NEXT_SHIFT)
    coming = [came for _, came, *_ in shifts if came > facts.now]
    if coming:
        found.append(PutOff(f"till the next shift, {when(facts, min(coming))}", min(coming)))
    return found
