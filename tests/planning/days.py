"""Plans of several days as one, so that the check sees them share pits and people."""

from dataclasses import replace


def together(*plans):
    """Days' plans as one, services told apart by their day, to be checked as one."""
    dated = [dated_services(plan) for plan in plans]
    return replace(
        dated[0],
        loads=tuple(load for plan in dated for load in plan.loads),
        steps=tuple(step for plan in dated for step in plan.steps),
        batches=tuple(batch for plan in dated for batch in plan.batches),
        occasions=tuple(occasion for plan in dated for occasion in plan.occasions),
        short=tuple(short for plan in dated for short in plan.short),
        cooked={load: cooked for plan in dated for load, cooked in plan.cooked.items()},
        cautions=tuple(caution for plan in dated for caution in plan.cautions),
        result="short" if any(plan.short for plan in dated) else "good",
    )


def dated_services(plan):
    """The plan with its day before the name of every service."""

    def dated(service):
        return f"{plan.day} {service}"

    return replace(
        plan,
        loads=tuple(replace(ld, services=tuple(map(dated, ld.services))) for ld in plan.loads),
        occasions=tuple(replace(o, id=dated(o.id)) for o in plan.occasions),
        short=tuple(replace(s, service=dated(s.service)) for s in plan.short),
    )
