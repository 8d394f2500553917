"""What each load has for each serving time, where one load feeds several."""

from collections.abc import Callable, Mapping

from board.planning.plan import Plan, PlannedLoad

# Portions by (load id, occasion id).
Allotted = Mapping[tuple[str, str], int]


def allotted(
    plan: Plan, item: str, left: Callable[[PlannedLoad], int], wanted: Mapping[str, int]
) -> Allotted:
    """An item's portions by load and serving time: each in turn gets what it wants, the first what is over.

    Args:
        left: the portions a load has or will have.
        wanted: portions still wanted, by occasion id.
    """
    opens = {occasion.id: occasion.at for occasion in plan.occasions}
    missing, found = dict(wanted), {}
    for load in sorted((ld for ld in plan.loads if ld.item == item), key=lambda ld: (ld.needed_at, ld.id)):
        portions = left(load)
        services = sorted((s for s in load.services if s in opens), key=lambda s: (opens[s], s))
        for service in services:
            given = min(portions, missing.get(service, 0))
            missing[service] = missing.get(service, 0) - given
            found[load.id, service] = given
            portions -= given
        if services:
            found[load.id, services[0]] += portions
    return found
