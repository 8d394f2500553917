"""Reading containers.toml: the pots and tubs that batches are made, cooled and kept in."""

from collections.abc import Iterator

from board.house.chilling import around_c, fitted_ua_w_k, wetted
from board.house.model import ChillWay, Container
from board.house.tables import Table

# A litre of brine or meat weighs no less than a litre of water, and a pot is not filled to the brim.
KG_A_LITRE = 0.9
LARGEST_L = 5000.0
MOST = 500
# What a pot loses in W/K beyond these is a slip of the hand.
UA_W_K = (0.1, 5000.0)
COOLED = (ChillWay.ICE_BATH, ChillWay.WALK_IN)


def read_containers(file: Table | None) -> dict[str, Container]:
    """Every container by id; none without a file."""
    if file is None:
        return {}
    containers = {row.id: _container(row) for row in file.named()}
    file.done()
    return containers


def _container(row: Table) -> Container:
    litres = row.volume_l("volume")
    if litres > LARGEST_L:
        raise row.refuse("volume", f"a volume up to {LARGEST_L:g} L")
    takes_kg = row.mass_kg("takes", KG_A_LITRE * litres)
    container = Container(
        id=row.id,
        name=row.text("name", row.id.replace("-", " ")),
        litres=litres,
        takes_kg=takes_kg,
        count=row.whole("count", 1, MOST),
        space_kg=row.mass_or_none_kg("space") if row.has("space") else None,
        ua_w_k={**dict(_stated(row)), **dict(_fitted(row, takes_kg))},
    )
    row.done()
    if container.count < 1:
        raise row.refuse("count", "how many of them the house has, at least 1")
    return container


def _stated(row: Table) -> Iterator[tuple[ChillWay, float]]:
    """What the house says the container loses, in W/K."""
    given = row.table("loses")
    if given is not None:
        yield from (
            (way, given.number(way, low=UA_W_K[0], high=UA_W_K[1])) for way in COOLED if given.has(way)
        )
        given.done()


def _fitted(row: Table, takes_kg: float) -> Iterator[tuple[ChillWay, float]]:
    """What it loses when full, by two readings of a brine in it; a fuller one wets more metal."""
    for seen in row.tables("cooled"):
        way = ChillWay(seen.one_of("in", COOLED))
        around = seen.temperature_c("around", around_c(way))
        first, last = seen.temperature_c("from"), seen.temperature_c("to")
        if not around < last < first:
            raise seen.refuse("to", f"a temperature below `from` and above what is around it, {around:g} C")
        mass_kg = seen.mass_kg("mass")
        read = fitted_ua_w_k(mass_kg, first, last, seen.minutes_above_nought("took"), around)
        yield way, wetted(read, takes_kg / mass_kg)
        seen.done()
