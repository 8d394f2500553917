"""What wants somebody now: each trouble once, in a sentence, with what to do about it.

Everything here follows from the facts of one moment. A trouble keeps its key from minute to minute, and its
level rises as it gets worse.
"""

from board.house.ringing import limits_of
from board.views.alarm import Alarm, AlarmKind, Stood
from board.views.alarms_of_loads import batch_alarms, hold_alarms, late_alarms
from board.views.alarms_of_pits import pit_alarms
from board.views.alarms_of_probes import probe_alarms
from board.views.alarms_of_rules import check_alarms, rule_alarms
from board.views.facts import Facts
from board.views.progress import Revised
from board.views.remedying import Advised
from board.views.text import Tone

_KINDS = list(AlarmKind)


def alarms(
    facts: Facts,
    revised: Revised | None = None,
    worked_out: Advised | None = None,
    stood: Stood | None = None,
) -> tuple[Alarm, ...]:
    """Every trouble of one moment, answered or not, the worst first; no key comes twice.

    `stood` keeps a load at the edge of being late from ringing by turns: it is quiet again only once it is
    better by what the house calls settled.
    """
    limits = limits_of(facts.house)
    rules, held = rule_alarms(facts), tuple(hold_alarms(facts, limits))
    found = [
        *rules,
        *late_alarms(facts, limits, revised, worked_out or {}, stood or {}),
        *pit_alarms(facts, limits, revised),
        *held,
        *probe_alarms(facts, revised),
        *batch_alarms(facts, limits),
        *check_alarms(facts, limits, told=(*rules, *held)),
    ]
    unique = {one.key: one for one in reversed(found)}
    return tuple(sorted(unique.values(), key=_rank))


def _rank(alarm: Alarm) -> tuple[object, ...]:
    is_calm = alarm.tone is not Tone.LATE
    return (is_calm, _KINDS.index(alarm.kind), -alarm.level, alarm.since, alarm.key)
