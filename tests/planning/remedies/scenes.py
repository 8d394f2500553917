"""Loads in trouble, made by hand: a house of four pits, and one load with others around it."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, datetime, timedelta

from board.cooking.cook import Cook, PitAir
from board.house.library import library_cuts, pit_prior
from board.house.model import Cut, Hold, House, Pit, PitKind
from board.house.spans import TimeSpan
from board.planning.plan import PlannedLoad
from board.planning.remedies.scene import OnPit, Scene
from tests.app.house_fixture import house as small_house

NOW = datetime(2026, 12, 19, 11, 40, tzinfo=UTC)
HIGHEST_C = 190.0


def pit(id: str, kind: PitKind, *, area_m2: float = 2.4, **changes: object) -> Pit:
    """A pit as its kind usually is."""
    prior = pit_prior(kind)
    usual = Pit(
        id=id,
        name=id.capitalize(),
        kind=kind,
        area_m2=area_m2,
        setpoint_c=(90.0, HIGHEST_C),
        warm_up_minutes=60.0,
        fuel="oak",
        fuel_kg_per_hour=4.0,
        fuel_price_per_kg=0.4,
        h_c_w_m2k=prior.h_c,
        humidity_ratio=prior.humidity,
        control_band_c=prior.control_band_c.usual,
    )
    return replace(usual, **changes)  # type: ignore[arg-type]


PITS = (
    pit("north", PitKind.OFFSET),
    pit("south", PitKind.CABINET),
    pit("alcove", PitKind.ROTISSERIE),
    pit("little", PitKind.OVEN, area_m2=0.6),
)


def house(pits: tuple[Pit, ...] = PITS, holds: tuple[Hold, ...] | None = None) -> House:
    """The library's cuts, some pits, a bench and a hot hold."""
    kept = holds if holds is not None else (Hold("bench", "bench", 3.0), Hold("hold", "hold", 2.0, 65.0))
    return replace(
        small_house(),
        cuts=dict(library_cuts()),
        pits={one.id: one for one in pits},
        holds={one.id: one for one in kept},
    )


def planned(
    id: str, cut: Cut, pit: str, *, load_at: datetime, pull_at: datetime, **facts: float
) -> PlannedLoad:
    """A planned load from what differs; half an hour each way about its pull."""
    pieces, rest = int(facts.get("pieces", 4)), facts.get("rest", cut.rest_minutes[0])
    half, resting = timedelta(minutes=30), timedelta(minutes=rest)
    pull = TimeSpan(pull_at - half, pull_at, pull_at + half)
    ready = TimeSpan(pull.p10 + resting, pull.p50 + resting, pull.p90 + resting)
    needed = pull_at + timedelta(minutes=facts.get("needed", 120.0))
    return PlannedLoad(
        id=id,
        cut=cut.id,
        item=cut.id,
        pieces=pieces,
        mass_kg=cut.mass_kg.usual * pieces,
        pit=pit,
        setpoint_c=facts.get("setpoint", 118.0),
        light_at=load_at - timedelta(hours=1),
        load_at=load_at,
        wrap_at=None,
        pull_at=pull,
        ready_at=ready,
        needed_at=needed,
        services=("lunch",),
        portions=int(facts.get("portions", 40)),
        area_m2=facts.get("area", cut.area_m2 * pieces),
        rest_minutes=rest,
        hold_minutes_p50=0.0,
        spare_minutes_p50=(needed - ready.p50).total_seconds() / 60,
        chance=0.9,
        hold="hold",
    )


def on_pit(
    place: House, load: PlannedLoad, *, elapsed: float, core_c: float | None, **changes: object
) -> OnPit:
    """The load cooking for so many minutes now, its core read a moment ago."""
    cut = place.cuts[load.cut]
    cook = Cook(
        cut=cut,
        mass_kg=load.mass_kg / load.pieces,
        pieces=load.pieces,
        pit=PitAir.of(place.pits[load.pit]),
        setpoint_c=load.setpoint_c,
        until_core_c=cut.end_core_c,
        start_c=cut.start_c,
        wrap=cut.wrap,
        tender_minutes=cut.tender_minutes,
    )
    usual = OnPit(
        load=load,
        cook=cook,
        on_at=NOW - timedelta(minutes=elapsed),
        pit=load.pit,
        due=load.needed_at,
        pull=load.pull_at,
        taken=((elapsed - 2.0, core_c),) if core_c is not None else (),
    )
    return replace(usual, **changes)  # type: ignore[arg-type]


def scene(
    cut: str = "brisket",
    *,
    elapsed: float = 300.0,
    core_c: float | None = 62.0,
    left: float = 400.0,
    needed: float = 0.0,
    lit: Mapping[str, float] | None = None,
    place: House | None = None,
    **changes: object,
) -> Scene:
    """A cut on North at 118 °C, likely pulled in `left` minutes and needed `needed` minutes after that."""
    where = place or house()
    load = planned(
        "late",
        where.cuts[cut],
        "north",
        load_at=NOW - timedelta(minutes=elapsed),
        pull_at=NOW + timedelta(minutes=left),
        needed=needed,
    )
    on = on_pit(where, load, elapsed=elapsed, core_c=core_c)
    usual = Scene(house=where, now=NOW, load=on, lit=lit if lit is not None else {"north": 118.0})
    return replace(usual, **changes)  # type: ignore[arg-type]
