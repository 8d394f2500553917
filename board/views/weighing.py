"""A batch on the scale: what to weigh next, what is weighed already, and what is wrong with it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from board.batches.card import BatchCard
from board.batches.limits import Agent, Code
from board.batches.minding import CURE_ROUNDING
from board.batches.nitrite import Judgement, judged
from board.batches.scaled_batch import ScaledIngredient
from board.house.model import ChillWay
from board.ledger.facts import WeighedFacts
from board.views import names
from board.views.facts import Facts
from board.views.happened import on_a_scale
from board.views.text import Tone, inert

_METRIC = ("g", "kg")


@dataclass(frozen=True, slots=True)
class ScaleLine:
    """One line of a recipe: what the scale must show, about what a jug shows, and what it showed.

    `weighed` is what it showed, in the same unit; `asked_g` the exact amount as the scale can show it;
    `line` its place in the recipe from 1.
    """

    line: int
    name: str
    amount: str
    about: str
    asked_g: float
    is_cure: bool
    grams: float | None = None
    weighed: str = ""
    says: str = ""
    tone: Tone = Tone.PLAIN


@dataclass(frozen=True, slots=True)
class Scale:
    """All lines of a batch, the sum so far, and what to mind; `left` are the lines not weighed yet."""

    lines: tuple[ScaleLine, ...]
    total: str
    minds: tuple[str, ...]

    @property
    def left(self) -> tuple[ScaleLine, ...]:
        """The lines still to weigh."""
        return tuple(line for line in self.lines if line.grams is None)


def scale(facts: Facts, made: BatchCard, weighed: Sequence[WeighedFacts], ice_kg: float = 0.0) -> Scale:
    """A batch on the scale, from its card, what was weighed of it and the ice that is planned to cool it."""
    told = {one.line: one for one in weighed}
    known = {
        n: told[n]
        for n, line in enumerate(made.batch.ingredients, start=1)
        if n in told and inert(told[n].ingredient) == inert(line.name)  # or the recipe has changed since
    }
    lines = tuple(
        _line(facts, n, line, known.get(n)) for n, line in enumerate(made.batch.ingredients, start=1)
    )
    heaviest = max(made.batch.ingredients, key=lambda line: line.grams)
    minds = (*map(inert, made.refused), *_cure_minds(facts, made, known), *_other_recipe(made, told))
    return Scale(lines, _total(lines, heaviest), (*minds, *_ice_minds(made, ice_kg)))


def _ice_minds(made: BatchCard, ice_kg: float) -> tuple[str, ...]:
    """How much of the water is weighed as ice: poured in beside all of the water it would thin the brine."""
    if made.batch.recipe.chill is not ChillWay.ICE or ice_kg <= 0.0:
        return ()
    return (f"{on_a_scale(1000.0 * ice_kg)} of the water goes in as ice after the boil",)


def _line(facts: Facts, number: int, line: ScaledIngredient, one: WeighedFacts | None) -> ScaleLine:
    says, tone = _tick(facts, line, one) if one else ("", Tone.PLAIN)
    return ScaleLine(
        line=number,
        name=inert(line.name),
        amount=f"{line.shown.amount:g} {line.shown.unit}",
        about=f"about {line.volume.amount:g} {line.volume.unit}" if line.volume else "",
        asked_g=round(line.shown.grams, 3),
        is_cure=line.role == "cure",
        grams=one.grams if one else None,
        weighed=_shown(line, one.grams) if one else "",
        says=says,
        tone=tone,
    )


def _tick(facts: Facts, line: ScaledIngredient, one: WeighedFacts) -> tuple[str, Tone]:
    who = names.person_name(facts.house, one.who)
    off = one.grams - line.shown.grams
    if abs(one.grams - line.grams) > _tolerance_g(line):
        side = "over" if off > 0 else "under"
        amount = f"✓ {_shown(line, one.grams)}, {_shown(line, abs(off))} {side}"
        return f"{amount}, {who}", Tone.LATE if line.role == "cure" else Tone.CARE
    read = f", read by {names.person_name(facts.house, one.reader)}" if one.reader else ""
    if line.role == "cure" and not one.reader:
        return f"✓ {who}; read by nobody else", Tone.CARE
    return f"✓ {who}{read}", Tone.GOOD


def _tolerance_g(line: ScaledIngredient) -> float:
    """How far off a weighed amount may be: a step of its scale, or the share a cure may be off by."""
    return max(line.shown.step_g, CURE_ROUNDING * line.grams)


def _shown(line: ScaledIngredient, grams: float) -> str:
    """A mass in the unit that the scale shows this line in."""
    if line.shown.unit in _METRIC or line.shown.amount <= 0:
        return on_a_scale(grams)
    return f"{round(grams * line.shown.amount / line.shown.grams, 2):g} {line.shown.unit}"


def _total(lines: Sequence[ScaleLine], like: ScaledIngredient) -> str:
    """The sum of what was weighed against what the whole recipe comes to, in the unit of one line."""
    whole, done = sum(line.asked_g for line in lines), [line for line in lines if line.grams is not None]
    if not done:
        return f"{_shown(like, whole)} in all"
    sofar, asked = sum(line.grams or 0.0 for line in done), sum(line.asked_g for line in done)
    if len(done) < len(lines):
        return f"{len(done)} of {len(lines)} weighed: {_shown(like, sofar)} of {_shown(like, whole)}"
    off = sofar - asked
    beside = f", {_shown(like, abs(off))} {'over' if off > 0 else 'under'}" if abs(off) >= 0.05 else ""
    return f"all weighed: {_shown(like, sofar)} of {_shown(like, whole)}{beside}"


def _cure_minds(facts: Facts, made: BatchCard, known: Mapping[int, WeighedFacts]) -> tuple[str, ...]:
    """What is wrong with the cure on the scale: too much or too little of it, or read by one person only."""
    said: list[str] = []
    doses = _doses(facts, made, known)
    over = any(judgement.over for _, _, judgement in doses)
    for n, line in enumerate(made.batch.ingredients, start=1):
        one = known.get(n)
        if line.role != "cure" or one is None:
            continue
        off = one.grams - line.grams
        if abs(off) > _tolerance_g(line) or (over and off > 0):
            said.append(_off(line, one) + _told(doses))
        elif not one.reader:
            said.append(f"{inert(line.name)}: a second person has not read the scale")
    return tuple(said)


def _off(line: ScaledIngredient, one: WeighedFacts) -> str:
    """A cure that is further off than it may be: by how much, and on which side."""
    off, side = one.grams - line.shown.grams, "more" if one.grams > line.grams else "less"
    return (
        f"{inert(line.name)}: {_shown(line, one.grams)} is {_shown(line, abs(off))} {side} than the "
        f"recipe's {_shown(line, line.shown.grams)}"
    )


def _told(doses: Sequence[tuple[Agent, float, Judgement]]) -> str:
    """What the cure as weighed comes to in the meat, beside its limits."""
    said = "".join(f"; {agent} then {ppm:.0f} ppm, {judged.verdict}" for agent, ppm, judged in doses)
    over = any(judgement.over for _, _, judgement in doses)
    return f"{said}: do not use it, weigh it anew" if over else said


def _doses(
    facts: Facts, made: BatchCard, known: Mapping[int, WeighedFacts]
) -> list[tuple[Agent, float, Judgement]]:
    """Nitrite and nitrate in the meat by what was weighed so far, in mg for each kg, and how that stands."""
    if made.meat is None:
        return []
    code = Code(facts.house.jurisdiction, made.meat.product, facts.today)
    found = []
    for agent, ppm in ((Agent.NITRITE, made.meat.nitrite_ppm), (Agent.NITRATE, made.meat.nitrate_ppm)):
        if ppm > 0:
            now_ppm = ppm * _share(made, known, agent)
            found.append((agent, now_ppm, judged(now_ppm, code, made.meat.method, agent)))
    return found


def _share(made: BatchCard, known: Mapping[int, WeighedFacts], agent: Agent) -> float:
    """How much of an agent there is by what was weighed, as a share of the recipe's."""
    planned_g = weighed_g = 0.0
    for n, line in enumerate(made.batch.ingredients, start=1):
        grams = line.nitrite_g if agent is Agent.NITRITE else line.nitrate_g
        planned_g += grams
        weighed_g += grams * (known[n].grams / line.grams if n in known and line.grams > 0 else 1.0)
    return weighed_g / planned_g


def _other_recipe(made: BatchCard, told: Mapping[int, WeighedFacts]) -> tuple[str, ...]:
    """What was weighed by a card that said something else: another plan, or a recipe changed since."""
    now = dict(enumerate(made.batch.ingredients, start=1))
    changed = [
        one
        for n, one in told.items()
        if n not in now
        or inert(now[n].name) != inert(one.ingredient)
        or round(now[n].shown.grams, 3) != one.asked_g
    ]
    return tuple(
        f"{inert(one.ingredient)} was weighed when the card asked for {on_a_scale(one.asked_g)}; "
        "the card has changed since"
        for one in changed
    )
