"""Which loads a person holds to a place, splits or joins, and the sign and words that show it."""

from board.house.spans import minutes_between
from board.ledger.facts import PinFacts, RegroupFacts
from board.ledger.state import LoadStage
from board.planning.plan import Plan, PlannedLoad
from board.planning.replan.worded import SAME_DEGREES_K
from board.views import names
from board.views.facts import Facts, load_state
from board.views.text import inert


def pin_on(facts: Facts, plan: Plan, load: PlannedLoad) -> PinFacts | None:
    """The pin of a load; None where it has none, or has begun and cooks where it is."""
    if load_state(facts, load, plan.day).stage is not LoadStage.PLANNED:
        return None
    return next((pin for pin in facts.pins if (pin.day, pin.load) == (plan.day, load.id)), None)


def pin_word(facts: Facts, plan: Plan, load: PlannedLoad) -> str:
    """`◆ pinned` where the plan has the load as it is pinned, `◇` and what waits where it does not yet."""
    pin = pin_on(facts, plan, load)
    if pin is not None:
        return "◆ pinned" if _is_there(pin, load) else "◇ pin waits"
    wish = _waiting(facts, plan, load)
    return "" if wish is None else "◇ join waits" if wish.pieces is None else "◇ split waits"


def pin_says(facts: Facts, plan: Plan, load: PlannedLoad) -> str:
    """What is wished of a load, its pin first, in a sentence; nothing where nothing is."""
    pin = pin_on(facts, plan, load)
    if pin is None:
        wish = _waiting(facts, plan, load)
        return "" if wish is None else _wish_says(facts, plan, wish)
    if _is_there(pin, load):
        return "◆ pinned: every new plan has it here and then"
    house = facts.house
    some = f"{names.of_cut(house, load.cut, pin.pieces)} " if pin.pieces not in (None, load.pieces) else ""
    heat = f" at {names.degrees(house, pin.setpoint_c)}" if pin.setpoint_c is not None else ""
    there = f"{names.spot_name(house, pin.pit, pin.zone)}{heat} from {names.clock(house, pin.load_at)}"
    return f"◇ {some}pinned to {there}: the next plan has it so"


def stray_pins(facts: Facts, plan: Plan) -> tuple[PinFacts, ...]:
    """The pins of a plan's day that hold nothing: their load is no longer in the plan."""
    ids = {load.id for load in plan.loads}
    drafted = {wish.other for wish in facts.regroups if wish.day == plan.day}
    return tuple(pin for pin in facts.pins if pin.day == plan.day and pin.load not in ids | drafted)


def stray_says(facts: Facts, pin: PinFacts) -> str:
    """That a pin holds nothing, and where it would have."""
    there = f"{names.spot_name(facts.house, pin.pit, pin.zone)}, {names.clock(facts.house, pin.load_at)},"
    return f"◇ the pin of {inert(pin.load)} to {there} holds nothing: that load is not in the plan; let it go"


def _waiting(facts: Facts, plan: Plan, load: PlannedLoad) -> RegroupFacts | None:
    """The last wish to split or join a load that a plan does not have yet."""
    ids = {one.id for one in plan.loads}
    return next(
        (
            wish
            for wish in reversed(facts.regroups)
            if wish.day == plan.day
            and load.id in (wish.load, wish.other)
            and (wish.other in ids) == (wish.pieces is None)
        ),
        None,
    )


def stray_wishes(facts: Facts, plan: Plan) -> tuple[RegroupFacts, ...]:
    """The splits and joins of a plan's day that change nothing: a load they are of is no longer there."""
    ids = {load.id for load in plan.loads}
    told = {wish.other for wish in facts.regroups}  # split off, or taken in by another
    return tuple(w for w in facts.regroups if w.day == plan.day and w.load not in ids | told)


def stray_wish_says(wish: RegroupFacts) -> str:
    """That a split or a join changes nothing any more."""
    what = "join" if wish.pieces is None else "split"
    return f"◇ the {what} of {inert(wish.load)} changes nothing: that load is not in the plan any more"


def _wish_says(facts: Facts, plan: Plan, wish: RegroupFacts) -> str:
    if wish.pieces is not None:
        return f"◇ {names.own_load(wish.pieces, 'of them ')}: the next plan has it so"
    both = [names.pieces(facts.house, load) for load in plan.loads if load.id in (wish.load, wish.other)]
    return f"◇ {' and '.join(both)} are to be one load: the next plan has it so"


def _is_there(pin: PinFacts, load: PlannedLoad) -> bool:
    """Whether the plan has the load where, when and as it is pinned."""
    same_place = pin.pit == load.pit and pin.zone in (None, load.zone) and pin.pieces in (None, load.pieces)
    same_heat = pin.setpoint_c is None or abs(pin.setpoint_c - load.setpoint_c) < SAME_DEGREES_K
    return same_place and same_heat and abs(minutes_between(pin.load_at, load.load_at)) < 1
