"""Whether each load that came off was shown cooked, and what would settle it before it is served."""

from board.ledger.state import OFF_AND_THERE
from board.planning.plan import Plan, PlannedLoad
from board.safety.verdict import Answer, Verdict
from board.views import names
from board.views.facts import Facts, load_state
from board.views.proving import cook_verdict
from board.views.text import Tone, inert

TONES = {Answer.PASS: Tone.GOOD, Answer.FAIL: Tone.LATE, Answer.NOT_SHOWN: Tone.CARE}
_WORDS = {Answer.PASS: "shown cooked", Answer.FAIL: "not cooked", Answer.NOT_SHOWN: "not shown cooked"}
_NONE_LOG10 = 0.05  # told as 0.0
_ENOUGH_LOG10 = 20.0  # beyond this the number says nothing: there are not so many germs to kill


def verdict_now(facts: Facts, plan: Plan, load: PlannedLoad) -> Verdict | None:
    """What a load's cores so far prove; None before it came off, once it is gone, or of an unknown cut."""
    state = load_state(facts, load, plan.day)
    if state.stage not in OFF_AND_THERE:
        return None
    return cook_verdict(facts.house, load, facts.readings.get((plan.day, load.id), ()))


def answer_word(answer: Answer) -> str:
    """An answer of a cooking rule in words."""
    return _WORDS[answer]


def said(verdict: Verdict, word: str = "") -> str:
    """A verdict with its reason, what would settle it, and the lethality beside it; the answer by `word`."""
    parts = [f"{word or answer_word(verdict.answer)}: {verdict.why}"]
    if verdict.settle:
        parts.append(f"It would be settled by {verdict.settle}.")
    if verdict.lethality_log10 is not None:
        parts.append(_lethality(verdict.lethality_log10, verdict.answer))
    return inert(" ".join(parts))


def _lethality(log10: float, answer: Answer) -> str:
    """The lethality in a sentence; food shown cooked by one hot reading says that more would be needed."""
    if log10 < _NONE_LOG10 and answer is Answer.PASS:
        return "Its readings are too few to work out a lethality."
    much = f"more than {_ENOUGH_LOG10:.0f}" if log10 > _ENOUGH_LOG10 else f"{log10:.1f}"
    return f"Lethality {much} log10, beside the rule, never instead of it."


def before_serving(facts: Facts, plan: Plan, load: PlannedLoad) -> str:
    """What to do before a load that came off is served; empty where it is shown cooked, or still on."""
    verdict = verdict_now(facts, plan, load)
    if verdict is None or verdict.answer is Answer.PASS:
        return ""
    the = names.the_pieces(facts.house, load)
    if verdict.answer is Answer.FAIL:
        return inert(f"do not serve {the}: {verdict.why} Cook on, or discard.")
    return inert(f"before {the} are served: {verdict.settle}")
