"""One load's page: where it stands, its chart, its readings and notes, and why it takes so long."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from board.house.model import Cut
from board.house.spans import Span, TimeSpan, minutes_between
from board.house.units import format_mass
from board.house.wording import count, duration
from board.ledger.state import Entry, LoadStage, LoadState, Reading, ReadingKey
from board.planning.plan import Plan, PlannedLoad
from board.views import fed, names
from board.views.cautions import caution_of
from board.views.chart import Chart
from board.views.clock_words import DOUBTFUL, doubt_aside, doubt_word
from board.views.cooked import cooked_cell
from board.views.days import lately, when
from board.views.facts import Facts, find_load, load_state
from board.views.happened import sentence
from board.views.likely import counted_state, likely_times
from board.views.load_batches import load_batches
from board.views.load_chart import chart_of
from board.views.load_course import LoadCourse
from board.views.load_steps import ChainStep, load_steps
from board.views.progress import LikelyPull, Progress, Revised, Risk
from board.views.reference import parts
from board.views.remedies import best_line
from board.views.remedying import Advised
from board.views.shown_cooked import TONES, verdict_now
from board.views.shown_cooked import said as proved_said
from board.views.spots import spot
from board.views.steps import next_of
from board.views.table import Table
from board.views.text import Tone, inert
from board.views.turning import due, turn_ahead, turned_at
from board.views.why_late import why_late

_OVERDUE_MINUTES = 5
_SAFETY = ("cooked", "proved")
_OFF = (LoadStage.PULLED, LoadStage.RESTING)
_READY = (LoadStage.HOLDING, LoadStage.SERVED)


@dataclass(frozen=True, slots=True)
class Told:
    """One line of what is known of a load: a word or a time, and what it says."""

    head: str
    says: str
    tone: Tone = Tone.PLAIN


@dataclass(frozen=True, slots=True)
class LoadPage:
    """The whole page, in plain values and sentences; `busy` says what is still being worked out."""

    key: str
    meat: str
    where: str
    core: str
    verdict: str
    tone: Tone
    chart: Chart | None
    facts: tuple[Told, ...]
    diary: tuple[Told, ...]
    steps: tuple[ChainStep, ...]
    why: tuple[Table, ...]
    busy: str


def load_page(
    facts: Facts,
    key: str,
    revised: Revised | None = None,
    course: LoadCourse | None = None,
    *,
    busy: str = "",
    entries: Sequence[Entry] = (),
    struck: Sequence[Reading] = (),
    advised: Advised | None = None,
) -> LoadPage | None:
    """A load's page at one moment; None for a load no plan knows any more.

    `course` is what the sums expect of it, once it has come; `busy` what to say until then. `entries`
    are what was recorded of it, `struck` what probes fed of it and somebody struck, `advised` what helps the
    loads in trouble.
    """
    day, id = parts(key)
    plan = facts.plans.get(day)
    load = find_load(plan, id)
    if plan is None or load is None:
        return None
    state = counted_state(facts, plan, load, revised)
    likely = likely_times(facts, plan, load, revised)
    pull = (revised or {}).get(load.id)
    left_out = dict(pull.left_out) if isinstance(pull, LikelyPull) else {}
    warning = pull.warning if isinstance(pull, LikelyPull) else None
    verdict, tone = _verdict(facts, load, state, likely)
    cut = facts.house.cuts.get(load.cut)
    if cut is not None and _at_its_aim(facts, state, likely):
        verdict, tone = _pull_now(facts, load, likely, _aim(facts, cut)), Tone.HEAT
    particulars = _facts(facts, plan, load, likely, warning=warning, course=course)
    late = _late(facts, load, likely, why_late(facts, plan, load, state, likely), advised or {})
    return LoadPage(
        key=key,
        meat=names.pieces(facts.house, load),
        where=_where(facts, plan, load, state),
        core=_core(facts, state),
        verdict=verdict,
        tone=tone,
        chart=chart_of(facts, plan, load, likely, course=course, left_out=left_out, struck=struck),
        facts=(*_doubted(facts, entries), *_with_late(particulars, late)),
        diary=tuple(_diary(facts, plan, load, left_out, entries, struck=struck)),
        steps=load_steps(facts, plan, load, revised),
        why=_why(state, course, pull if likely.core_c is not None else None),
        busy=busy,
    )


def _why(state: LoadState, course: LoadCourse | None, read: TimeSpan | None) -> tuple[Table, ...]:
    """The account of its number, and what its readings have left of the span."""
    if course is None:
        return ()
    if course.why_read is None or read is None or state.on_at is None:
        return course.why
    ends = (minutes_between(state.on_at, end) for end in (read.p10, read.p50, read.p90))
    return course.why_read(Span(*ends))


def _where(facts: Facts, plan: Plan, load: PlannedLoad, state: LoadState) -> str:
    """On which pit, and how it stands there."""
    pit = spot(facts, load, plan.day)
    if state.stage in _OFF:
        return f"off {pit}, {state.stage}"
    if state.stage in _READY:
        return str(state.stage)
    word = {LoadStage.ON: "cooking", LoadStage.PREPPED: "ready to go on"}.get(state.stage, str(state.stage))
    return f"{pit}, {word}"


def _core(facts: Facts, state: LoadState) -> str:
    """The last core that counts, and when it was read."""
    if state.last_core_c is None or state.last_core_at is None:
        return "core not read yet" if state.on_at else ""
    return f"core {names.degrees(facts.house, state.last_core_c)} at {when(facts, state.last_core_at)}"


def _verdict(facts: Facts, load: PlannedLoad, state: LoadState, likely: Progress) -> tuple[str, Tone]:
    """The one sentence to read first."""
    needed = f"needed {when(facts, load.needed_at)}"
    if state.stage in _READY:
        since = f" since {when(facts, state.since)}" if state.since else ""
        return f"{str(state.stage).capitalize()}{since}; {needed}.", Tone.GOOD
    if state.stage is LoadStage.LOST:
        return "This load was lost.", Tone.LATE
    if state.pulled_at is not None and likely.ready.p50 <= facts.now:
        return f"Rested and ready since {when(facts, likely.ready.p50)}; {needed}.", Tone.GOOD
    ready = f"Ready about {when(facts, likely.ready.p50)}{_span(facts, likely)}, {needed}"
    if likely.risk is Risk.LATE:
        return f"{ready}: {duration(-likely.spare_minutes)} too late ▲", Tone.LATE
    if likely.risk is Risk.MAYBE_LATE:
        return f"{ready}: {duration(likely.spare_minutes)} to spare, may be late ?", Tone.CARE
    return f"{ready}: {duration(likely.spare_minutes)} to spare", Tone.GOOD


def _at_its_aim(facts: Facts, state: LoadState, likely: Progress) -> bool:
    """Whether a load that cooks is likely done by now."""
    return state.stage in (LoadStage.ON, LoadStage.WRAPPED) and likely.pull.p90 <= facts.now


def _aim(facts: Facts, cut: Cut) -> str:
    """What a cut is pulled at: its core, or tenderness near it."""
    core = names.degrees(facts.house, cut.pull_core_c)
    return f"when tender, near {core}" if cut.tender_minutes else f"at {core}"


def _pull_now(facts: Facts, load: PlannedLoad, likely: Progress, aim: str) -> str:
    """What to do with a load at its aim."""
    times = f"Ready {when(facts, likely.ready.p50)}, needed {when(facts, load.needed_at)}"
    late = f", {duration(-likely.spare_minutes)} too late ▲" if likely.risk is Risk.LATE else ""
    return f"Probe the slowest piece now, and pull {aim}. {times}{late}"


def _span(facts: Facts, likely: Progress) -> str:
    house, ready = facts.house, likely.ready
    if ready.p10 == ready.p90:
        return ""
    return f" ({names.clock(house, ready.p10)}–{names.clock(house, ready.p90)})"


def _doubted(facts: Facts, entries: Sequence[Entry]) -> Iterator[Told]:
    """How many of its times a wrong clock wrote."""
    found = Counter(facts.doubts[entry.seq] for entry in entries if entry.seq in facts.doubts)
    for doubt, number in found.items():
        were = "was" if number == 1 else "were"
        yield Told(DOUBTFUL, f"{number} of its times {were} written {doubt_word(doubt)}", Tone.CARE)


def _with_late(particulars: Sequence[Told], late: Sequence[Told]) -> Iterator[Told]:
    """What is proved, or is not, of its cooking first; then why it is late; then the rest."""
    safe = [one for one in particulars[:2] if one.head in _SAFETY]
    yield from (*safe, *late, *particulars[len(safe) :])


def _late(
    facts: Facts, load: PlannedLoad, likely: Progress, reasons: Sequence[str], advised: Advised
) -> list[Told]:
    """Why it is late, and what would help most."""
    tone = Tone.LATE if likely.risk is Risk.LATE else Tone.CARE
    told = [Told("why", says, tone) for says in reasons]
    best = best_line(facts, load, advised.get(load.id)) if told else ""
    return [*told, Told("help", best, Tone.GOOD)] if best else told


def _facts(
    facts: Facts,
    plan: Plan,
    load: PlannedLoad,
    likely: Progress,
    *,
    warning: str | None,
    course: LoadCourse | None,
) -> list[Told]:
    """The load's particulars, a line each."""
    house, state = facts.house, load_state(facts, load, plan.day)
    each, all_of = (format_mass(kg, house.display) for kg in (load.mass_kg / load.pieces, load.mass_kg))
    was_turned = load.then_c is not None and turned_at(facts, plan, load) is not None
    setpoint = names.degrees(house, load.then_c if was_turned and load.then_c else load.setpoint_c)
    cut = house.cuts.get(load.cut)
    wrap, then = _wrap(facts, load, state, course), _then(facts, plan, load)
    served = names.listed([inert(o.name) for o in plan.occasions if o.id in load.services])
    id = inert(load.id)
    told = [
        Told("meat", f"{names.pieces(house, load)}, {each} each, {all_of} in all; its id is {id}"),
        Told("pit", f"{spot(facts, load, plan.day)} at {setpoint}"),
        Told("on", _on(facts, load, state)),
        Told("wrap", wrap) if wrap else None,
        Told("then", then) if then else None,
        Told("pull", _pull(facts, state, likely, _aim(facts, cut) if cut else "")),
        Told("but", warning, Tone.CARE) if warning else None,
        Told("ready", f"{when(facts, likely.ready.p50)}{_span(facts, likely)}"),
        Told("for", f"{count(load.portions, 'portion')} of {names.item_name(house, load.item)}, {served}"),
        Told("needed", _needed(facts, load)),
        Told("planned", f"in time {round(100 * load.chance)} times in 100"),
    ]
    known = [line for line in told if line is not None]
    step = next_of(facts, plan, load.id)
    mind = caution_of(facts.house, plan, step) if step else None
    known += [Told(one.word, one.says, one.tone) for one in load_batches(facts, plan, load)]
    known[1:1] = [Told("mind", mind.short or mind.text, mind.tone)] if mind else []
    proved = verdict_now(facts, plan, load)
    if proved is not None:
        known.insert(0, Told("proved", proved_said(proved), TONES[proved.answer]))
    cooked = cooked_cell(facts, plan, load)
    if cooked is not None:
        at = len(known) if cooked.tone is Tone.QUIET else 0
        known.insert(at, Told("cooked", cooked.text, cooked.tone))
    return known


def _needed(facts: Facts, load: PlannedLoad) -> str:
    """When its first portions are needed, and the further waves it feeds."""
    waves = [names.clock(facts.house, at) for at in load.waves if at > load.needed_at]
    return names.listed([when(facts, load.needed_at), *waves])


def _on(facts: Facts, load: PlannedLoad, state: LoadState) -> str:
    """Since when it is on, and how that was against the plan."""
    if state.on_at is None:
        return f"planned for {when(facts, load.load_at)}"
    late = minutes_between(load.load_at, state.on_at)
    off = f", {duration(abs(late))} {'after' if late > 0 else 'before'} plan" if abs(late) >= 5 else ""
    return f"since {when(facts, state.on_at)}{off}"


def _wrap(facts: Facts, load: PlannedLoad, state: LoadState, course: LoadCourse | None) -> str:
    """When it was or is likely wrapped; nothing for a load that stays open."""
    if state.wrapped_at is not None:
        return f"wrapped at {when(facts, state.wrapped_at)}"
    if state.pulled_at is None and course is not None and course.wrap is not None:
        p10, p90 = (names.clock(facts.house, end) for end in (course.wrap.p10, course.wrap.p90))
        return f"likely {when(facts, course.wrap.p50)} ({p10}–{p90})"
    return f"planned for {when(facts, load.wrap_at)}" if load.wrap_at else ""


def _then(facts: Facts, plan: Plan, load: PlannedLoad) -> str:
    """What the pit is or was set to with the load on it; nothing where the plan has no such change."""
    at = due(facts, plan, load)
    if load.then_c is None or at is None:
        return ""
    setpoint = f"{names.pit_name(facts.house, load.pit)} to {names.degrees(facts.house, load.then_c)}"
    if turn_ahead(facts, plan, load) is None:
        done = turned_at(facts, plan, load)
        return f"{setpoint} since {when(facts, done)}" if done else ""
    late = minutes_between(at, facts.now)
    overdue = f", {duration(late)} overdue" if late >= _OVERDUE_MINUTES else ""
    return f"set {setpoint} at {when(facts, at)}{overdue}"


def _pull(facts: Facts, state: LoadState, likely: Progress, aim: str) -> str:
    if state.pulled_at is not None:
        return f"off at {when(facts, state.pulled_at)}"
    p10, p90 = names.clock(facts.house, likely.pull.p10), names.clock(facts.house, likely.pull.p90)
    span = "" if p10 == p90 else f" ({p10}–{p90})"
    return f"{aim}, likely {when(facts, likely.pull.p50)}{span}"


def _diary(
    facts: Facts,
    plan: Plan,
    load: PlannedLoad,
    left_out: Mapping[ReadingKey, str],
    entries: Sequence[Entry],
    *,
    struck: Sequence[Reading],
) -> list[Told]:
    """Its readings, its steps, and what was said of it and while it was on, newest first."""
    state = load_state(facts, load, plan.day)
    readings = facts.readings.get((plan.day, load.id), ())
    lines = [
        (
            r.written_at,
            _reading(facts, r.temperature_c, left_out.get(r.key, "")) + doubt_aside(facts.doubts, r.seq),
            r.who,
            bool(left_out.get(r.key)),
        )
        for r in readings
        if r.probe is None
    ]
    lines += [
        (at, f"core {says}", who, False)
        for at, says, who in fed.told(facts.house, readings, struck, left_out)
    ]
    lines += [
        (entry.at, sentence(facts, entry) + doubt_aside(facts.doubts, entry.seq), entry.who, False)
        for entry in {one.seq: one for one in (*facts.since, *entries)}.values()
        if not entry.undone
        and entry.undoes is None
        and entry.kind not in ("reading", "correction")
        and (entry in entries or _is_about(entry, load, state))
    ]
    newest = sorted(lines, key=lambda line: line[0], reverse=True)
    return [
        Told(
            lately(facts, at),
            f"{says}  {names.person_name(facts.house, who)}",
            Tone.QUIET if out else Tone.PLAIN,
        )
        for at, says, who, out in newest
    ]


def _reading(facts: Facts, core_c: float, why_not: str) -> str:
    core = f"core {names.degrees(facts.house, core_c)}"
    return f"{core}, left out: {why_not}" if why_not else core


def _is_about(entry: Entry, load: PlannedLoad, state: LoadState) -> bool:
    """Whether an entry is this load's own, or a note said while it was on."""
    if entry.kind in ("note", "handover"):
        return state.on_at is not None and _during(entry.at, state.on_at, state.pulled_at)
    return entry.kind in ("load", "move") and entry.subject == load.id


def _during(moment: datetime, start: datetime, end: datetime | None) -> bool:
    return moment >= start and (end is None or moment <= end)
