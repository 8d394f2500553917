"""What would help the fixture's hams, as if worked out; a stand-in for the ensemble."""

from board.planning.plan import Plan, PlannedLoad
from board.planning.remedies.remedy import Action, Advice, Cost, CostKind, Kind, LeftOut, Reason, Remedy
from board.views.facts import Facts
from board.views.progress import Revised
from board.views.remedying import Advised, in_trouble
from tests.app.house_fixture import span

HAMS = Advice(
    load="sat-ham",
    nothing=Remedy(Action(Kind.NOTHING), span("09:59", "10:44", "11:39"), 0.52),
    remedies=(
        Remedy(
            Action(Kind.RAISE, "little", 121.0),
            span("09:25", "09:58", "10:34"),
            0.93,
            (
                Cost(CostKind.DRIER, celsius=14.0),
                Cost(CostKind.OTHER_EARLIER, minutes=25, load="sat-brisket"),
            ),
        ),
        Remedy(
            Action(Kind.MOVE, "south", 121.0),
            span("09:33", "10:06", "10:44"),
            0.9,
            (Cost(CostKind.HANDS, 16), Cost(CostKind.DRIER, celsius=14.0)),
        ),
        Remedy(
            Action(Kind.PULL_LOWER, "little", core_c=63.0),
            span("09:49", "10:33", "11:25"),
            0.66,
            (
                Cost(CostKind.FIRMER, celsius=-2.0),
                Cost(CostKind.WAIT_AT_CORE, 4),
                Cost(CostKind.NO_MARGIN, celsius=63.0),
            ),
        ),
    ),
    left_out=(
        LeftOut(Kind.WRAP, Reason.NEVER_WRAPPED, "ham-boneless"),
        LeftOut(Kind.SHORTER_REST, Reason.AT_ITS_LEAST),
        LeftOut(Kind.OTHER_FIRST, Reason.NO_OTHER_LOAD),
    ),
)  # fmt: skip
BRISKETS = Advice(
    load="sat-brisket",
    nothing=Remedy(Action(Kind.NOTHING), span("07:20", "08:05", "09:10"), 0.98, (Cost(CostKind.HELD, 160),)),
    remedies=(
        Remedy(
            Action(Kind.HOLD, hold="hold", setpoint_c=65.0),
            span("07:20", "08:05", "09:10"),
            0.98,
            (Cost(CostKind.HELD, 160),),
        ),
    ),
    left_out=(LeftOut(Kind.LOWER, Reason.CORE_TOO_COOL, "sat-brisket"),),
    is_early=True,
)
ALL = {advice.load: advice for advice in (HAMS, BRISKETS)}


def advised(facts: Facts, revised: Revised) -> Advised:
    """Advice for those of the fixture's loads that are in trouble."""
    return {load.id: ALL[load.id] for _, load in in_trouble(facts, revised) if load.id in ALL}


def helped(facts: Facts, plan: Plan, load: PlannedLoad, revised: Revised) -> Advice | None:
    """Advice for one load that is asked about."""
    return ALL.get(load.id)
