"""Alarms about rules: food outside its rule, a probe that is off, and readings that are overdue."""

from collections.abc import Sequence

from board.house.model import AlarmLimits
from board.house.spans import minutes_between
from board.house.wording import duration
from board.ledger.state import WatchKind
from board.views.alarm import Alarm, AlarmKind, spell
from board.views.checks import END, LEFT, PREFIX, READ, Check, checks, load_of_check
from board.views.facts import Facts, find_watch
from board.views.failing import Failing, failing
from board.views.leftovers import leftovers
from board.views.text import Tone, inert

_PROBE, _LOAD, _WATCH = "probe:", "load:", "watch:"


def rule_alarms(facts: Facts) -> list[Alarm]:
    """What stands outside its rule and nobody has said what was done about it; probes that are off."""
    return [_rule(line) for line in failing(facts)]


def _rule(line: Failing) -> Alarm:
    is_probe = line.about.startswith(_PROBE)
    is_unsafe = not is_probe and not line.foreseen
    return Alarm(
        key=f"rule/{line.about}",
        level=line.level,
        kind=AlarmKind.PROBE if is_probe else AlarmKind.RULE,
        says=inert(line.says),
        todo="",
        tone=Tone.LATE if is_unsafe else Tone.CARE,
        since=line.since,
        load=line.about.removeprefix(_LOAD) if line.about.startswith(_LOAD) else "",
        about=f"entry:{line.entry}" if line.entry is not None else line.about,
    )


def check_alarms(facts: Facts, limits: AlarmLimits, told: Sequence[Alarm]) -> list[Alarm]:
    """What is overdue, unless something worse is told of the same food, or the same with what it is left of.

    What is left of what is over says itself when it was read.
    """
    worse = {one.key.removeprefix("rule/") for one in told}
    due = checks(facts, facts.now)
    left = {one.key for one in leftovers(facts)}
    held = {one.load for one in told if one.kind is AlarmKind.HOLD}
    return [
        _check(facts, one)
        for one in due
        if _about(one) not in worse
        and not (_is_left(one) and left <= held)
        and minutes_between(one.at, facts.now) >= _patience(facts, limits, one)
    ]


def _is_left(check: Check) -> bool:
    return check.key.startswith(f"{PREFIX}{LEFT}")


def _about(check: Check) -> str:
    """What a check is about, as what fails is keyed."""
    doing = check.key.removeprefix(PREFIX)
    if doing.startswith(END):
        return f"{_WATCH}{doing.removeprefix(END)}"
    if _is_left(check):
        return f"{_LOAD}{load_of_check(check.key)}"
    place = doing.removeprefix(READ)
    watch = place.removeprefix("place:")
    return place if place.startswith(_LOAD) else f"{_WATCH}{watch}"


def _patience(facts: Facts, limits: AlarmLimits, check: Check) -> float:
    """Minutes a check may wait: none where food cools or heats against the clock."""
    watch = find_watch(facts, _about(check).removeprefix(_WATCH))
    against = watch is not None and watch.kind in (WatchKind.COOLING, WatchKind.REHEATING)
    return 0.0 if against else limits.check_minutes


def _check(facts: Facts, check: Check) -> Alarm:
    minutes = minutes_between(check.at, facts.now)
    late = f"{duration(minutes)} overdue" if minutes >= 1 else "due now"
    return Alarm(
        key=f"check/{check.key.removeprefix(PREFIX)}/{spell(check.at)}",
        level=1,
        kind=AlarmKind.CHECK,
        says=check.says if _is_left(check) else f"{check.says}, {late}",
        todo="",
        tone=Tone.CARE,
        since=check.at,
        load=load_of_check(check.key),
        do=check.key,
    )
