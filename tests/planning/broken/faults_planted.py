"""Ways to break a good plan, each with words that the fault found must have."""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

from board.planning.plan import Plan, PlannedLoad, PlannedStep
from tests.planning.checker.promises import last_due

HOUR = timedelta(hours=1)
Break = Callable[[Plan], Plan]


def load_with(**change: object) -> Break:
    """Changes the plan's first brisket load."""
    return lambda plan: _with(plan, lambda load: change)


def moved(**hours: float) -> Break:
    """Moves times of the plan's first brisket load by so many hours."""
    return lambda plan: _with(plan, lambda ld: {k: getattr(ld, k) + n * HOUR for k, n in hours.items()})


def _with(plan: Plan, change: Callable[[PlannedLoad], dict[str, object]]) -> Plan:
    chosen = brisket(plan)
    loads = (replace(ld, **change(ld)) if ld is chosen else ld for ld in plan.loads)
    return replace(plan, loads=tuple(loads))


def brisket(plan: Plan) -> PlannedLoad:
    """The load that is broken."""
    return next(load for load in plan.loads if load.cut == "brisket")


def step_with(what: str, **change: object) -> Break:
    """Changes the first step of a kind."""
    return lambda plan: _stepped(plan, what, lambda step: change)


def step_moved(what: str, hours: float) -> Break:
    """Moves the first step of a kind by so many hours."""
    by = hours * HOUR
    return lambda plan: _stepped(plan, what, lambda s: {"at": s.at + by, "ends_at": s.ends_at + by})


def _stepped(plan: Plan, what: str, change: Callable[[PlannedStep], dict[str, object]]) -> Plan:
    chosen = next(step for step in plan.steps if step.what == what)
    steps = (replace(s, **change(s)) if s is chosen else s for s in plan.steps)
    return replace(plan, steps=tuple(steps))


def without_step(what: str) -> Break:
    """Leaves out every step of a kind."""
    return lambda plan: replace(plan, steps=tuple(s for s in plan.steps if s.what != what))


def _twin(**change: object) -> Break:
    return lambda plan: replace(plan, loads=(*plan.loads, replace(brisket(plan), id="twin", **change)))


def _hotter(plan: Plan) -> Plan:
    return _twin(setpoint_c=brisket(plan).setpoint_c + 10)(plan)


def _cold_pit(plan: Plan) -> Plan:
    return load_with(light_at=brisket(plan).load_at)(plan)


def _late_pull(plan: Plan) -> Plan:
    pull = brisket(plan).pull_at
    return load_with(pull_at=replace(pull, p10=pull.p90, p90=pull.p10))(plan)


def _batches(**change: object) -> Break:
    return lambda plan: replace(plan, batches=tuple(replace(b, **change) for b in plan.batches))


def _stale(plan: Plan) -> Plan:
    old = tuple(replace(b, use_by=b.ready_from - HOUR) for b in plan.batches)
    return replace(plan, batches=old)


def _all_by_one(plan: Plan) -> Plan:
    return replace(plan, steps=tuple(replace(s, who="dot") for s in plan.steps))


def _extra_fire(plan: Plan) -> Plan:
    fire = next(s for s in plan.steps if s.what == "light")
    extra = replace(fire, id="extra", at=fire.at - 9 * HOUR, ends_at=fire.ends_at - 9 * HOUR)
    return replace(plan, steps=(extra, *plan.steps))


def _odd_wave(plan: Plan) -> Plan:
    due = last_due(plan, brisket(plan))
    return load_with(waves=(due, due + HOUR / 3))(plan)


PLANTED: dict[str, tuple[Break, str]] = {
    "loaded into a cold pit": (_cold_pit, "cold pit"),
    "two setpoints at once": (_hotter, "two setpoints"),
    "an over-full pit": (load_with(area_m2=9.0, pieces=57), " holds "),
    "area that is not its pieces'": (load_with(area_m2=0.01), "area does not match"),
    "a pit that cannot be so hot": (load_with(setpoint_c=180.0), "cannot be set"),
    "air the cut does not cook in": (load_with(setpoint_c=94.0), "does not cook at"),
    "a zone the pit has not": (load_with(zone="attic"), "no zone attic"),
    "a change of setpoint nobody asked for": (load_with(then_c=135.0), "half a change"),
    "a pull before its earliest": (_late_pull, "pulled before it cooked"),
    "wrapped before it is on": (moved(wrap_at=-20), "outside its cook"),
    "a rest cut short": (load_with(rest_minutes=1.0), "rests"),
    "a hold that is not what it is": (load_with(hold_minutes_p50=5000.0), "waits"),
    "held beyond its longest": (load_with(hold_minutes_p50=5000.0), "held 5000"),
    "held on the bench": (load_with(hold="bench"), "held too cool"),
    "rested in the cabinet": (load_with(bench="cabinet"), "which is no bench"),
    "no bench to rest on": (load_with(bench=None), "no bench"),
    "a hold that does not exist": (load_with(hold="shed"), "has no shed"),
    "spare that does not add up": (load_with(spare_minutes_p50=999.0), "spare is"),
    "a chance that is too low": (load_with(chance=0.2), "chance 0.2"),
    "portions not there": (load_with(portions=1), "promised"),
    "needed at another time": (moved(needed_at=1), "another time"),
    "a wave nobody wants": (_odd_wave, "another time"),
    "nobody wraps": (without_step("wrap"), "no step to wrap"),
    "nobody pulls": (without_step("pull"), "no step to pull"),
    "no fire": (without_step("light"), "no step lights"),
    "a fire for no meat": (_extra_fire, "fire for no meat"),
    "a step without a name": (step_with("load", who=None), "nobody does it"),
    "nobody for a step, and nothing said": (step_with("load", who=None), "nothing is said of nobody"),
    "nobody for a step that somebody could do": (step_with("rub", who=None), "could do it at"),
    "one person for everything": (_all_by_one, "at once"),
    "loaded at another minute": (step_moved("load", 1), "the step to load is at"),
    "pulled at another minute": (step_moved("pull", 2), "the step to pull is at"),
    "a brine cut short": (step_moved("brine", 2), "allowed"),
    "sliced before it rested": (step_moved("slice", -4), "before it has rested"),
    "sliced when the guests are there": (step_moved("slice", 3), "after it is needed"),
    "a batch made too late": (step_moved("make", 30), "not made by"),
    "no batch": (_batches(loads=(), each_kg=()), "no batch of"),
    "a batch too small": (_batches(amount_kg=0.01), "that are taken"),
    "a stale batch": (_stale, "is not good when"),
    "a load left out in silence": (lambda p: replace(p, loads=p.loads[1:]), "promised"),
    "a bound above the cost": (lambda p: replace(p, bound=p.cost + 1), "bound"),
}
