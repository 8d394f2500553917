"""Each entry of the record as a sentence, and what a run of readings amounts to."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from board.house.spans import minutes_between
from board.house.units import format_mass
from board.house.wording import count, day_name, duration
from board.ledger.state import BatchStage, Entry, LoadStage, WatchEnd
from board.planning.plan import PlannedLoad
from board.views import names
from board.views.clock_words import say_clock
from board.views.facts import Facts, find_batch, find_load, find_step, load_of, pit_at, zone_at
from board.views.feed_words import say_fed, say_placed, say_struck
from board.views.steps import say
from board.views.subjects import load_told, plan_of, reading_c, subject_name, the_load
from board.views.text import Tone, inert
from board.views.watch_words import (
    put_right,
    say_action,
    say_correction,
    say_freezer,
    say_pin_set,
    say_probe,
    say_signature,
    say_watch,
    say_watch_ended,
)

_PAST = {
    "brine": "brined",
    "carve": "carved",
    "cook": "cooked",
    "cure": "put in the cure",
    "glaze": "glazed",
    "hold": "moved to the hold",
    "inject": "injected",
    "make": "made",
    "rest": "set to rest",
    "rub": "rubbed",
    "slice": "sliced",
    "temper": "taken out to temper",
    "thaw": "set to thaw",
    "trim": "trimmed",
}
_STAGE_SAYS: Mapping[str, str] = {
    LoadStage.PREPPED: "{the} are ready for the pit",
    LoadStage.ON: "{meat} went on {pit}",
    LoadStage.WRAPPED: "{the} were wrapped{wrap}",
    LoadStage.PULLED: "{meat} came off {pit}",
    LoadStage.RESTING: "{the} are resting",
    LoadStage.HOLDING: "{the} moved to the hold",
    LoadStage.SERVED: "{the} are served",
    LoadStage.LOST: "{meat} were lost",
}


_SAY_RIGHT = ("reading", "note", "handover", "probe")  # kinds whose own words tell what was put right
_NOTICED = ("sold out", "correction", "action", "struck", "mended")


@dataclass(frozen=True, slots=True)
class Fall:
    """A stretch in which a pit was below what was asked of it: when, how low, and for how long."""

    seq: int
    at: datetime
    who: str
    pit: str
    lowest_c: float
    minutes: float | None


def sentence(facts: Facts, entry: Entry) -> str:
    """What one entry says, in a sentence; empty for a kind that is not for people."""
    says = _SAYS.get(entry.kind)
    if says is None:
        return ""
    return says(facts, entry) + ("" if entry.kind in _SAY_RIGHT else put_right(facts, entry))


def weight(entry: Entry) -> Tone:
    """How much an entry wants to be noticed."""
    if entry.kind == "load" and entry.data.get("stage") == LoadStage.LOST:
        return Tone.LATE
    if entry.kind == "watch ended" and entry.data.get("how") == WatchEnd.DISCARDED:
        return Tone.LATE
    gone = entry.kind == "batch" and entry.data.get("stage") == BatchStage.DISCARDED
    return Tone.CARE if gone or entry.kind in _NOTICED else Tone.PLAIN


def falls(facts: Facts, entries: Sequence[Entry]) -> list[Fall]:
    """Each time a lit pit was read below its control band, until it was read within it again."""
    found: list[Fall] = []
    low: dict[str, Fall] = {}
    for entry in sorted(_air_readings(facts, entries), key=lambda e: e.at):
        pit, celsius = entry.subject, reading_c(facts, entry)
        setpoint = facts.pits[pit].setpoint_c
        assert setpoint is not None
        if celsius < setpoint - facts.house.pits[pit].control_band_c:
            before = low.get(pit)
            lowest = min(celsius, before.lowest_c) if before else celsius
            first = before or Fall(entry.seq, entry.at, entry.who, pit, celsius, None)
            low[pit] = Fall(first.seq, first.at, first.who, pit, lowest, None)
        elif pit in low:
            fall = low.pop(pit)
            minutes = minutes_between(fall.at, entry.at)
            found.append(Fall(fall.seq, fall.at, fall.who, pit, fall.lowest_c, minutes))
    return sorted([*found, *low.values()], key=lambda fall: fall.at)


def _air_readings(facts: Facts, entries: Sequence[Entry]) -> list[Entry]:
    lit = {id for id, pit in facts.pits.items() if id in facts.house.pits and pit.setpoint_c is not None}
    return [e for e in entries if e.kind == "reading" and e.subject in lit and not e.undone]


def say_fall(facts: Facts, fall: Fall) -> str:
    """A pit's fall in a sentence: `North fell to 98° for 22 min`."""
    lasted = f"for {duration(fall.minutes)}" if fall.minutes is not None else "and has not recovered"
    pit, lowest = names.pit_name(facts.house, fall.pit), names.degrees(facts.house, fall.lowest_c)
    return f"{pit} fell to {lowest} {lasted}"


def on_a_scale(grams: float) -> str:
    """A mass as a kitchen scale shows it: `30.2 g`, `1.85 kg`."""
    return f"{round(grams, 1):g} g" if grams < 1_000 else f"{round(grams / 1_000, 3):g} kg"


def behind_plan(facts: Facts, entry: Entry) -> float:
    """Minutes by which a load went on after its plan; 0 for anything else."""
    load = find_load(plan_of(facts, entry.data), entry.subject)
    if load is None or entry.kind != "load" or entry.data.get("stage") != LoadStage.ON:
        return 0.0
    return minutes_between(load.load_at, entry.at)


def batch_name(facts: Facts, entry: Entry) -> str:
    """The recipe's name of the batch an entry is about."""
    batch = find_batch(plan_of(facts, entry.data), entry.subject)
    return names.recipe_name(facts.house, batch.recipe) if batch else inert(entry.subject)


def _meat(facts: Facts, entry: Entry) -> str:
    """The pieces of the load an entry is about."""
    load = find_load(plan_of(facts, entry.data), entry.subject)
    return names.pieces(facts.house, load) if load else inert(entry.subject)


def _load(facts: Facts, entry: Entry) -> str:
    load = find_load(plan_of(facts, entry.data), entry.subject)
    return _stage(facts, load, entry, entry.subject)


def _stage(facts: Facts, load: PlannedLoad | None, entry: Entry, fallback: str) -> str:
    stage, plan = str(entry.data.get("stage", "")), plan_of(facts, entry.data)
    if load is None or stage not in _STAGE_SAYS:
        return inert(f"{fallback} {stage}")
    cut = facts.house.cuts.get(load.cut)
    wrap = f" in {cut.wrap.material.value}" if cut and cut.wrap else ""
    day = date.fromisoformat(str(entry.data["day"]))
    pit = str(entry.data.get("pit") or pit_at(facts, load, day, entry.at))
    there = pit == pit_at(facts, load, day, entry.at)
    zone = entry.data.get("zone") or (zone_at(facts, load, day, entry.at) if there else None)
    says = _STAGE_SAYS[stage] if load.pieces != 1 else _single(_STAGE_SAYS[stage])
    words = {
        "the": the_load(facts, plan, load) if plan else names.the_pieces(facts.house, load),
        "meat": names.pieces(facts.house, load),
        "pit": names.spot_name(facts.house, pit, zone),
        "wrap": wrap,
    }
    thrown = entry.data.get("thrown_kg")
    away = f", {format_mass(float(thrown), facts.house.display)} thrown away" if thrown else ""
    return f"{says.format(**words)}{away}"


def _single(says: str) -> str:
    return says.replace(" are ", " is ").replace(" were ", " was ")


def _step(facts: Facts, entry: Entry) -> str:
    plan = plan_of(facts, entry.data)
    step = find_step(plan, entry.subject)
    load = find_load(plan, step.load) if step else None
    if plan is None or step is None:
        return inert(f"{entry.subject} done")
    past = _PAST.get(step.what)
    if past and load and entry.data.get("stage") == LoadStage.PREPPED:
        return f"{names.pieces(facts.house, load)} {past}, ready for the pit"
    if entry.data.get("stage"):
        return _stage(facts, load, entry, entry.subject)
    if past and load:
        lots = [inert(str(one.get("lot") or one["batch"])) for one in entry.data.get("took", ())]
        of = f" with lot {names.listed(lots)}" if lots else ""
        return f"{names.pieces(facts.house, load)} {past}{of}"
    return f"done: {say(facts, plan, step)}"


def _batch(facts: Facts, entry: Entry) -> str:
    batch = find_batch(plan_of(facts, entry.data), entry.subject)
    stage = str(entry.data.get("stage", "made"))
    if batch is None:
        return inert(f"{entry.subject} {stage}")
    amount = format_mass(batch.amount_kg, facts.house.display)
    lot = f", lot {entry.data['lot']}" if entry.data.get("lot") else ""
    why = f": {entry.data['reason']}" if entry.data.get("reason") else ""
    return inert(f"{names.recipe_name(facts.house, batch.recipe)}, {amount}, {stage}{lot}{why}")


def _weighed(facts: Facts, entry: Entry) -> str:
    what = batch_name(facts, entry)
    reader = entry.data.get("reader")
    read = f", read by {names.person_name(facts.house, str(reader))}" if reader else ""
    grams, asked = float(entry.data["grams"]), float(entry.data["asked_g"])
    off = "" if grams == asked else f" (asked for {on_a_scale(asked)})"
    return f"{inert(str(entry.data['ingredient']))} for {what} weighed: {on_a_scale(grams)}{off}{read}"


def _light(facts: Facts, entry: Entry) -> str:
    setpoint = entry.data.get("setpoint_c")
    asked = f" to {names.degrees(facts.house, float(setpoint))}" if setpoint is not None else ""
    done = "lit" if entry.data.get("afresh", True) else "set"
    return f"{names.pit_name(facts.house, entry.subject)} {done}{asked}"


def _move(facts: Facts, entry: Entry) -> str:
    here = names.spot_name(facts.house, str(entry.data["from"]), entry.data.get("from_zone"))
    there = names.spot_name(facts.house, str(entry.data["pit"]), entry.data.get("zone"))
    return f"{_meat(facts, entry)} moved from {here} to {there}"


def _out(facts: Facts, entry: Entry) -> str:
    return f"{names.pit_name(facts.house, entry.subject)} was put out"


def _reading(facts: Facts, entry: Entry) -> str:
    degrees = names.degrees(facts.house, float(entry.data["temperature_c"]))
    return f"{subject_name(facts, entry)} read {degrees}{put_right(facts, entry)}"


def _said(facts: Facts, entry: Entry) -> str:
    text = inert(str(entry.data.get("text", "")))
    about = inert(entry.subject)
    found = load_of(facts, load_told(entry)) if entry.kind == "note" and load_told(entry) else None
    name = names.pieces(facts.house, found[1]) if found else names.place_name(facts.house, about)
    of = f" ({name})" if about else ""
    return f"“{text}”{of}{put_right(facts, entry)}"


def _promise(facts: Facts, entry: Entry) -> str:
    id = str(entry.data["item"])
    day = day_name(date.fromisoformat(entry.data["day"]))
    service = _service_name(facts, str(entry.data["service"]))
    return f"{service} on {day} is now promised {names.portions(facts.house, id, entry.data['portions'])}"


def _pin(facts: Facts, entry: Entry) -> str:
    pit = names.spot_name(facts.house, str(entry.data["pit"]), entry.data.get("zone"))
    clock = names.clock(facts.house, datetime.fromisoformat(entry.data["load_at"]))
    return f"{_meat(facts, entry)} pinned to {pit} at {clock}"


def _unpin(facts: Facts, entry: Entry) -> str:
    return f"{_meat(facts, entry)} no longer pinned"


def _split(facts: Facts, entry: Entry) -> str:
    whose = "its" if entry.data["pieces"] == 1 else "their"
    return f"{entry.data['pieces']} of {_meat(facts, entry)} to go in a load of {whose} own"


def _join(facts: Facts, entry: Entry) -> str:
    other = _meat(facts, replace(entry, subject=str(entry.data["other"])))
    return f"{_meat(facts, entry)} to be cooked with {other}"


def _order(facts: Facts, entry: Entry) -> str:
    data = entry.data
    item = names.item_name(facts.house, str(data["item"]))
    return f"order for {inert(str(data['name']))}: {data['portions']} {item} {_on_day(facts, entry)}"


def _due(facts: Facts, entry: Entry) -> str:
    return f"{_service_name(facts, entry.subject)} due {_on_day(facts, entry)}"


def _on_day(facts: Facts, entry: Entry) -> str:
    clock = names.clock(facts.house, datetime.fromisoformat(entry.data["at"]))
    return f"at {clock} on {day_name(date.fromisoformat(entry.data['day']))}"


def _strike(facts: Facts, entry: Entry) -> str:
    day = day_name(date.fromisoformat(entry.data["day"]))
    return f"order of {_service_name(facts, entry.subject)} on {day} struck"


def _sale(facts: Facts, entry: Entry) -> str:
    what = names.portions(facts.house, str(entry.data["item"]), int(entry.data["portions"]))
    order = _order_name(facts, entry)
    return f"{what} handed over to {order}" if order else f"{what} sold"


def _order_name(facts: Facts, entry: Entry) -> str:
    """Whose order a sale was for; empty where it was for a service."""
    plan = plan_of(facts, entry.data)
    occasions = plan.occasions if plan else ()
    return next((inert(o.name) for o in occasions if o.is_order and o.id == entry.data["service"]), "")


def _sold_out(facts: Facts, entry: Entry) -> str:
    item = names.item_name(facts.house, str(entry.data["item"]))
    return f"{item} sold out at {_service_name(facts, str(entry.data['service']))}"


def _plan(_: Facts, entry: Entry) -> str:
    reason = inert(str(entry.data.get("reason", "")))
    day = day_name(date.fromisoformat(entry.subject))
    return f"plan for {day} committed" + (f": {reason}" if reason else "")


def _undo(facts: Facts, entry: Entry) -> str:
    return f"taken back: {sentence(facts, taken_back(entry))}"


def taken_back(undo: Entry) -> Entry:
    """The entry that an undo took back, as far as it tells."""
    data = undo.data
    at = datetime.fromisoformat(data["at"]) if "at" in data else undo.at
    what, whose = str(data.get("kind", "")), str(data.get("who", undo.who))
    return Entry(undo.undoes or undo.seq, at, undo.noted_at, whose, what, undo.subject, data.get("data", {}))


def _correction(facts: Facts, entry: Entry) -> str:
    """A correction; of a time alone it says what happened, when, and what was thought before."""
    data = entry.data
    if "data" not in data or "was" not in data:
        return say_correction(facts, entry)
    at, was = (names.clock(facts.house, datetime.fromisoformat(data[key])) for key in ("at", "was"))
    of = Entry(entry.seq, entry.at, entry.noted_at, entry.who, data["of"], entry.subject, data["data"])
    return f"put right: {sentence(facts, of)} at {at}, not {was}"


def _service_name(facts: Facts, id: str) -> str:
    service = facts.house.services.get(id)
    order = next((order for order in facts.house.orders if order.id == id), None)
    known = service or order
    return inert(known.name if known else id)


def _answered(_: Facts, entry: Entry) -> str:
    return f"answered: {inert(str(entry.data['says']))}: “{inert(str(entry.data['why']))}”"


def _put_off(facts: Facts, entry: Entry) -> str:
    until = names.clock(facts.house, datetime.fromisoformat(str(entry.data["until"])))
    return f"put off until {until}: {inert(str(entry.data['says']))}"


def _mended(_: Facts, entry: Entry) -> str:
    """That the ledger was mended, and which entries were lost or stand with nothing to prove them."""
    data = entry.data
    told = {
        "lost": [
            f"{first} to {last}" if first != last else str(first) for first, last in data.get("lost", ())
        ],
        "not proved": list(data.get("taken", ())),
        "without their plan": [str(seq) for seq in data.get("plans", ())],
    }
    says = [f"{what}: entry {names.listed(seqs)}" for what, seqs in told.items() if seqs]
    return inert("; ".join(["the ledger was mended", *says]))


def _restored(_: Facts, entry: Entry) -> str:
    """What was put back, and how much of the record was set aside for it."""
    data = entry.data
    says = f"a backup was restored, up to entry {data['entry']}"
    lost = count(int(data["lost"]), "entry") if "lost" in data else "what could not be read"
    return says + (f"; {lost} set aside in {inert(str(data['kept']))}" if data.get("kept") else "")


_SAYS: Mapping[str, Callable[[Facts, Entry], str]] = {
    "action": say_action,
    "answered": _answered,
    "batch": _batch,
    "clock": say_clock,
    "correction": _correction,
    "due": _due,
    "fed": say_fed,
    "frozen": say_freezer,
    "handover": _said,
    "join": _join,
    "light": _light,
    "load": _load,
    "mended": _mended,
    "move": _move,
    "note": _said,
    "order": _order,
    "out": _out,
    "pin": _pin,
    "pin set": say_pin_set,
    "placed": say_placed,
    "plan": _plan,
    "probe": say_probe,
    "promise": _promise,
    "put off": _put_off,
    "reading": _reading,
    "restored": _restored,
    "sale": _sale,
    "signature": say_signature,
    "sold out": _sold_out,
    "split": _split,
    "step": _step,
    "strike": _strike,
    "struck": say_struck,
    "thawed": say_freezer,
    "undo": _undo,
    "weighed": _weighed,
    "unpin": _unpin,
    "watch": say_watch,
    "watch ended": say_watch_ended,
}
