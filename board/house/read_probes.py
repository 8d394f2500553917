"""Reading probes.toml, and what house.toml says of how much of a feed is kept."""

from collections.abc import Iterable, Mapping
from functools import cache

from board.house.model import House, Pit
from board.house.probes import WALK_IN, Aside, Keeping, Probe, ProbeReads, Silence
from board.house.shipped import shipped
from board.house.tables import Table

LONGEST_SENT_AS = 200  # a topic of a broker is a path of a few words
UNITS = ("C", "F")
LONGEST_EVERY_MINUTES = 60.0
MOST_CHANGE_K = 50.0
LONGEST_SILENT_MINUTES = 24 * 60.0


def read_probes(file: Table | None, pits: Mapping[str, Pit], holds: Iterable[str]) -> dict[str, Probe]:
    """Every probe by id; none without a file.

    Raises HouseFileError for a place the house has not, and for two probes that are sent under one name.
    """
    if file is None:
        return {}
    probes: dict[str, Probe] = {}
    names: dict[str, str] = {}
    for row in file.named():
        probe = _probe(row, pits, (*pits, *holds, WALK_IN))
        _apart(row, probe, names)
        probes[probe.id] = probe
    file.done()
    return probes


@cache
def usual() -> Keeping:
    """What data/keeping.toml says is kept of a feed."""
    figures = shipped("keeping")
    return Keeping(
        every_minutes=float(figures["every"]["minutes"]),
        change_k=float(figures["change"]["kelvins"]),
        silent_minutes=float(figures["silent"]["minutes"]),
    )


def apart_k() -> float:
    """How far a probe and a reading by hand may be apart, K."""
    return float(shipped("keeping")["apart"]["kelvins"])


@cache
def aside() -> Aside:
    """What data/keeping.toml says of messages that are set aside."""
    figures = shipped("keeping")["aside"]
    return Aside(int(figures["messages"]), float(figures["minutes"]))


def keeping_of(house: House) -> Keeping:
    """What a house keeps of its feed, else the usual."""
    return house.keeping or usual()


def silence_of(house: House) -> Silence:
    """When each probe of a house counts as silent."""
    own = tuple((p.id, p.silent_minutes) for p in house.probes.values() if p.silent_minutes is not None)
    return Silence(keeping_of(house).silent_minutes, own)


def read_keeping(given: Table | None) -> Keeping | None:
    """What a house says of how much of its feed is kept; None where it says nothing."""
    if given is None:
        return None
    known = usual()
    found = Keeping(
        every_minutes=given.minutes("keep_every", known.every_minutes),
        change_k=given.difference_k("keep_change", known.change_k),
        silent_minutes=_silent(given, known.silent_minutes),
    )
    given.done()
    if found.every_minutes > LONGEST_EVERY_MINUTES:
        raise given.refuse(
            "keep_every", f"a time up to {LONGEST_EVERY_MINUTES:g} min; 0 min keeps everything"
        )
    if not 0 <= found.change_k <= MOST_CHANGE_K:
        raise given.refuse("keep_change", f"a difference from 0 to {MOST_CHANGE_K:g} C")
    if found.silent_minutes <= found.every_minutes:
        raise given.refuse("silent", "a time longer than keep_every, or a steady probe would seem silent")
    return found


def _probe(row: Table, pits: Mapping[str, Pit], places: tuple[str, ...]) -> Probe:
    reads = row.choice("reads", ProbeReads, ProbeReads.AIR)
    place = _place(row, reads, tuple(pits) if reads is ProbeReads.MEAT else places)
    probe = Probe(
        id=row.id,
        name=row.text("name", row.id.replace("-", " ")),
        reads=reads,
        place=place,
        sent_as=_sent_as(row),
        zone=_zone(row, reads, pits.get(place or "")),
        unit=row.one_of("unit", UNITS) if row.has("unit") else None,
        silent_minutes=_silent(row) if row.has("silent") else None,
    )
    row.done()
    return probe


def _place(row: Table, reads: ProbeReads, known: tuple[str, ...]) -> str | None:
    """Where it reads; a meat probe may have no place of its own, and is then placed by hand."""
    if reads is ProbeReads.MEAT and not row.has("place"):
        return None
    return row.one_of("place", known)


def _zone(row: Table, reads: ProbeReads, pit: Pit | None) -> str | None:
    """The zone a meat probe hangs at; the air that is read is always a whole pit's."""
    if not row.has("zone"):
        return None
    if pit is None or not pit.zones or reads is not ProbeReads.MEAT:
        raise row.refuse("zone", "a zone where a meat probe's place is a pit that has zones; else nothing")
    return row.one_of("zone", tuple(zone.id for zone in pit.zones))


def _sent_as(row: Table) -> tuple[str, ...]:
    """The names its messages give it: its id where it says nothing."""
    names = row.texts("sent_as")
    if len(set(names)) < len(names) or any(len(name) > LONGEST_SENT_AS for name in names):
        raise row.refuse("sent_as", f"names up to {LONGEST_SENT_AS} letters, each once")
    return names or (row.id,)


def _silent(row: Table, usually: float | None = None) -> float:
    minutes = row.minutes_above_nought("silent", usually)
    if minutes > LONGEST_SILENT_MINUTES:
        raise row.refuse("silent", f"a time up to {LONGEST_SILENT_MINUTES / 60:g} h")
    return minutes


def _apart(row: Table, probe: Probe, names: dict[str, str]) -> None:
    """Refuse a name that another probe's messages bear already."""
    for name in probe.sent_as:
        if name in names:
            raise row.refuse("sent_as", f"a name of its own: {names[name]} is sent as {name} already")
        names[name] = probe.id
