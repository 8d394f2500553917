"""Alarms about probes that feed: silent where they are wanted, denied by a hand, or not understood."""

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta

from board.house.probes import Probe
from board.house.read_probes import apart_k, aside, silence_of
from board.house.spans import minutes_between
from board.ledger.facts import PlacingFacts
from board.ledger.feeding import ProbeState
from board.ledger.state import LoadStage, Reading
from board.planning.plan import PlannedLoad
from board.views import names
from board.views.alarm import Alarm, AlarmKind, spell
from board.views.days import when
from board.views.facts import Facts, all_loads, load_of, load_state, pit_at
from board.views.fed_out import out_now
from board.views.gather import WALK_IN
from board.views.in_use import is_held
from board.views.progress import Revised, left_out_of
from board.views.reference import ref
from board.views.text import Tone, inert

ASIDE = "aside"  # what an alarm does: the messages that were set aside are listed
_ON = (LoadStage.ON, LoadStage.WRAPPED)
_ALLOWED = ", allowed "  # what is wrong stands before it
_LATELY = timedelta(hours=24)  # a probe that has sent nothing for longer is put away
_DENIED = timedelta(hours=2)  # a reading by hand is older news then
_AT_ONCE = timedelta(minutes=5)


def probe_alarms(facts: Facts, revised: Revised | None = None) -> Iterator[Alarm]:
    """Every probe that is silent where it is wanted, all in one where none sends; those that read wrong."""
    silence = silence_of(facts.house)
    put = {one.probe: one.at for one in facts.placed}
    wanted = [
        one
        for one in facts.fed
        if facts.now - one.sent_at < _LATELY
        and put.get(one.id, one.sent_at) <= one.sent_at  # else it is elsewhere by now
        and _is_wanted(facts, one)
    ]
    silent = [one for one in wanted if minutes_between(one.sent_at, facts.now) > silence.minutes(one.id)]
    if len(silent) > 1 and len(silent) == len(wanted):
        yield _no_feed(facts, silent)
    else:
        yield from (_silent(facts, one) for one in silent)
    yield from _never_sent(facts)
    yield from _out_of_the_meat(facts, revised)
    yield from _denied(facts)
    yield from _not_understood(facts)


def _is_wanted(facts: Facts, one: ProbeState) -> bool:
    """Whether something is on the fire, or kept hot or cold, where this probe is."""
    probe = facts.house.probes.get(one.id)
    if probe is None:
        return False
    if one.load is not None and one.load_day is not None:
        state = facts.loads.get((one.load_day, one.load))
        return state is not None and state.stage in _ON
    if one.place in facts.house.pits:
        return any(
            load_state(facts, load, plan.day).stage in _ON and pit_at(facts, load, plan.day) == one.place
            for plan, load in all_loads(facts)
        )
    return one.place == WALK_IN or (one.place is not None and is_held(facts, one.place))


def _silent(facts: Facts, one: ProbeState) -> Alarm:
    probe = facts.house.probes[one.id]
    load = _load(one)
    return Alarm(
        key=f"silent/{one.id}/{spell(one.sent_at)}",
        level=1,
        kind=AlarmKind.SILENT,
        says=f"{inert(probe.name)} has sent nothing since {when(facts, one.sent_at)}",
        todo=f"see to it, and read {_where(facts, one)} by hand until then",
        tone=Tone.CARE,
        since=one.sent_at + timedelta(minutes=silence_of(facts.house).minutes(one.id)),
        load=load,
        do="" if load else f"place:{one.place}",
    )


def _load(one: ProbeState | PlacingFacts) -> str:
    """The key of the load a probe is in; empty for none."""
    return ref(one.load_day, one.load) if one.load is not None and one.load_day is not None else ""


def _where(facts: Facts, one: ProbeState) -> str:
    if one.load is not None:
        found = load_of(facts, _load(one))
        return names.the_pieces(facts.house, found[1]) if found else inert(one.load)
    return "the walk-in" if one.place == WALK_IN else names.place_name(facts.house, str(one.place))


def _no_feed(facts: Facts, silent: Sequence[ProbeState]) -> Alarm:
    last = max(one.sent_at for one in silent)
    return Alarm(
        key=f"silent/all/{spell(last)}",
        level=1,
        kind=AlarmKind.SILENT,
        says=f"none of {len(silent)} probes has sent anything since {when(facts, last)}",
        todo="see whether board feed runs (board feed status), and read by hand until then",
        tone=Tone.CARE,
        since=last,
    )


def _never_sent(facts: Facts) -> Iterator[Alarm]:
    """The probes in a load on the fire that have sent nothing since they were put into it."""
    sent = {one.id: one.sent_at for one in facts.fed}
    silence = silence_of(facts.house)
    for one in facts.placed:
        probe, found = facts.house.probes.get(one.probe), load_of(facts, _load(one))
        if probe is None or found is None or load_state(facts, found[1], found[0].day).stage not in _ON:
            continue
        has_sent = one.probe in sent and sent[one.probe] >= one.at
        if has_sent or minutes_between(one.at, facts.now) <= silence.minutes(one.probe):
            continue
        meat, since = names.the_pieces(facts.house, found[1]), when(facts, one.at)
        yield Alarm(
            key=f"silent/{one.probe}/{spell(one.at)}",
            level=1,
            kind=AlarmKind.SILENT,
            says=f"{inert(probe.name)} has sent nothing since {since}, when it was put into {meat}",
            todo=f"see to it, and read {meat} by hand until then",
            tone=Tone.CARE,
            since=one.at + timedelta(minutes=silence.minutes(one.probe)),
            load=_load(one),
        )


def _out_of_the_meat(facts: Facts, revised: Revised | None) -> Iterator[Alarm]:
    """The probes of loads on the fire that have read no core for longer than one may be out of reach."""
    silence = silence_of(facts.house)
    for (day, id), readings in facts.readings.items():
        key = ref(day, id)
        state, found = facts.loads.get((day, id)), load_of(facts, key)
        if state is None or state.stage not in _ON or found is None:
            continue
        reasons = left_out_of(revised, id)
        for probe in dict.fromkeys(one.probe for one in readings):
            own = [one for one in readings if one.probe == probe]
            out = out_now(own, reasons) if probe in facts.house.probes else None
            if out is not None and minutes_between(out[0], facts.now) > silence.minutes(probe):
                yield _is_out(facts, facts.house.probes[str(probe)], found[1], key, out)


def _is_out(facts: Facts, probe: Probe, load: PlannedLoad, key: str, out: tuple[datetime, str]) -> Alarm:
    since, why = out
    meat = names.the_pieces(facts.house, load)
    return Alarm(
        key=f"out/{probe.id}/{key}/{spell(since)}",
        level=1,
        kind=AlarmKind.PROBE,
        says=f"{inert(probe.name)} has read no core of {meat} since {when(facts, since)}: {why}",
        todo="put it back into the meat, and strike what it sent on the load's page",
        tone=Tone.CARE,
        since=since,
        load=key,
    )


def _not_understood(facts: Facts) -> Iterator[Alarm]:
    """The feeds of which several messages were set aside lately."""
    for source in dict.fromkeys(one.source for one in facts.aside):
        own = [one for one in facts.aside if one.source == source]
        if len(own) < aside().messages:
            continue
        yield Alarm(
            key=f"aside/{source}/{facts.today}",
            level=1,
            kind=AlarmKind.ASIDE,
            says=f"{len(own)} messages of {inert(source)} set aside since {when(facts, own[-1].at)}: "
            f"{inert(own[0].why.partition(_ALLOWED)[0])}",
            todo="put what sends them right, or probes.toml, and read by hand until then",
            tone=Tone.CARE,
            since=own[-1].at,
            do=ASIDE,
        )


def _denied(facts: Facts) -> Iterator[Alarm]:
    """The probes of a place that is read otherwise by hand at the same time."""
    for place, readings in {**facts.air, **facts.kept}.items():
        hand = next((r for r in reversed(readings) if r.probe is None), None)
        if hand is None or facts.now - hand.at > _DENIED:
            continue
        for probe in facts.house.probes.values():
            own = [r for r in readings if r.probe == probe.id and abs(r.at - hand.at) <= _AT_ONCE]
            if own:
                nearest = min(own, key=lambda r: abs(r.at - hand.at))
                yield from _apart(facts, place, probe, hand, nearest)


def _apart(facts: Facts, place: str, probe: Probe, hand: Reading, fed: Reading) -> Iterator[Alarm]:
    pit = facts.house.pits.get(place)
    allowed_k = max(apart_k(), pit.control_band_c if pit else 0.0)
    if abs(hand.temperature_c - fed.temperature_c) <= allowed_k:
        return
    read, sent = (names.degrees(facts.house, one.temperature_c) for one in (hand, fed))
    yield Alarm(
        key=f"apart/{probe.id}/{spell(hand.at)}",
        level=1,
        kind=AlarmKind.PROBE,
        says=f"{inert(probe.name)} sent {sent} when {read} was read by hand at {when(facts, hand.at)}",
        todo="check both in ice water; what is wrong is put right or struck in the Record",
        tone=Tone.CARE,
        since=hand.at,
        do=f"place:{place}",
    )
