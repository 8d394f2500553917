"""Reading the zones of a pit, and how much grate they make in all."""

from board.house.model import Zone
from board.house.tables import ID, ID_ALLOWED, Table

WIDEST_K = 60.0  # from the hottest to the coolest end of any pit in data/pit_kinds.toml
HIGHEST_LEVEL = 20
ROUNDING = 0.01  # areas in whole inches or hundredths add up this nearly


def read_zones(row: Table) -> tuple[Zone, ...]:
    """The zones of a pit in the order of the file, none when it has none."""
    rows = row.tables("zone")
    zones = tuple(_zone(each) for each in rows)
    for n, (given, zone) in enumerate(zip(rows, zones, strict=True)):
        if zone.id in {earlier.id for earlier in zones[:n]}:
            raise given.refuse("id", "an id that no other zone of this pit has")
    return zones


def read_area(row: Table, zones: tuple[Zone, ...]) -> float:
    """A pit's area in m²: as given, which its zones must add up to, or all of theirs."""
    in_zones = sum(zone.area_m2 for zone in zones)
    if not zones:
        return row.area_m2("area")
    area = row.area_m2("area", in_zones)
    if abs(area - in_zones) > ROUNDING * area:
        raise row.refuse("area", f"what its zones add up to, {in_zones:.3g} m2; or leave it out")
    return in_zones


def _zone(row: Table) -> Zone:
    id = row.text("id")
    if not ID.fullmatch(id):
        raise row.refuse("id", ID_ALLOWED)
    zone = Zone(
        id=id,
        name=row.text("name", id.replace("-", " ")),
        area_m2=row.area_m2("area"),
        warmer_k=row.difference_k("warmer", 0.0),
        level=row.whole("level", 0, HIGHEST_LEVEL),
    )
    row.done()
    if abs(zone.warmer_k) > WIDEST_K:
        raise row.refuse("warmer", "up to 60 K from the setpoint either way, such as 20 F or -10 C")
    return zone
