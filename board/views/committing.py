"""What a draft changes of the committed plan, in a line, and what it costs or gains."""

from board.house.wording import count
from board.planning.plan import Plan
from board.planning.replan.differences import differences, moved
from board.planning.weights import in_money
from board.views.facts import Facts
from board.views.guidance import Key
from board.views.names import listed
from board.views.text import inert
from board.views.worth import how_unsure, occasion_name

# A chance that fell by less is not told: it is drawn by lot, and nobody plans by it.
_TOLD_FROM = 0.05


def less_sure(facts: Facts, draft: Plan | None, key: Key) -> str:
    """What to say of a plan that leaves a service less sure than it wants and than it was; else nothing."""
    committed = facts.plans.get(draft.day) if draft else None
    then = f"{key('commit')} commits it, {key('plan')} plans again"
    doubtful = [how_unsure(draft, risk) for risk in draft.risks if risk.unsure] if draft else []
    if draft and committed is None and doubtful:
        return f"planned, but {'; '.join(doubtful)}: {then}"
    fell = _fell(committed, draft) if committed and draft else []
    if not fell:
        return ""
    return f"planned, but {listed(fell)}: {key('changes')} shows what changes, {then}"


def commit_lines(facts: Facts, draft: Plan, key: Key) -> tuple[str, str]:
    """What committing a draft changes, and what it costs or gains beside the plan it takes the place of."""
    committed = facts.plans.get(draft.day)
    if committed is None:
        return f"The first plan of this day: {count(len(draft.loads), 'load')}.", _sure(draft)
    found = differences(committed, draft, facts.house)
    if not found:
        return "It changes nothing of the committed plan.", _sure(draft)
    gone = moved(committed, draft)
    first = next((one for one in found if one.load in gone), found[0])
    more = f"; {count(len(found) - 1, 'more change')}, {key('changes')} lists them" if len(found) > 1 else ""
    dearer = _lasting(draft) - _lasting(committed)
    costs = "It costs as much" if abs(dearer) < 1 else f"It costs {in_money(abs(dearer))} "
    costs += "" if abs(dearer) < 1 else "more" if dearer > 0 else "less"
    return f"Changes: {inert(first.says)}{more}.", "; ".join([costs, *_turned(committed, draft)]) + "."


def _lasting(plan: Plan) -> float:
    """What a plan costs, without what changing to it did."""
    return plan.cost - plan.costs.moved


def _sure(plan: Plan) -> str:
    return "; ".join(f"{occasion_name(plan, r.service)} {100 * r.chance:.0f} of 100 sure" for r in plan.risks)


def _turned(before: Plan, after: Plan) -> list[str]:
    """Each service whose chance changed, as it was and as it is."""
    was = {risk.service: risk.chance for risk in before.risks}
    return [
        f"{occasion_name(after, risk.service)} {100 * was[risk.service]:.0f} → {100 * risk.chance:.0f} of 100"
        for risk in after.risks
        if risk.service in was and round(100 * was[risk.service]) != round(100 * risk.chance)
    ]


def _fell(before: Plan, after: Plan) -> list[str]:
    """Each service that is less sure than it wants and than it was."""
    was = {risk.service: risk.chance for risk in before.risks}
    fell = [
        risk
        for risk in after.risks
        if risk.unsure and risk.service in was and was[risk.service] - risk.chance >= _TOLD_FROM
    ]
    return [
        f"{occasion_name(after, risk.service)} is {100 * risk.chance:.0f} of 100 sure, "
        f"{100 * was[risk.service]:.0f} before"
        for risk in fell
    ]
