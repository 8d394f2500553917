"""A plan written by hand, small enough to reason about: a brisket overnight and a glaze for lunch."""

from datetime import UTC, date, datetime, timedelta

from board.house.spans import TimeSpan
from board.planning.plan import Plan, PlannedBatch, PlannedLoad, PlannedStep

DAY = date(2026, 12, 9)
ZONE = "America/Denver"  # UTC-7 in December
EVENING = datetime(2026, 12, 9, 1, 0, tzinfo=UTC)  # 18:00 on the 8th
LOADED = EVENING + timedelta(hours=1)


def around(moment: datetime) -> TimeSpan:
    """A likely range of half an hour each way."""
    half = timedelta(minutes=30)
    return TimeSpan(moment - half, moment, moment + half)


def brisket(load_id: str = "1209-brisket-1", load_at: datetime = LOADED) -> PlannedLoad:
    """Twelve briskets on North, served at noon."""
    pulled = load_at + timedelta(hours=12)
    return PlannedLoad(
        id=load_id,
        cut="brisket",
        item="sliced-brisket",
        pieces=12,
        mass_kg=72.0,
        pit="north",
        setpoint_c=118.0,
        light_at=load_at - timedelta(hours=1),
        load_at=load_at,
        wrap_at=load_at + timedelta(hours=7),
        pull_at=around(pulled),
        ready_at=around(pulled + timedelta(hours=1)),
        needed_at=load_at + timedelta(hours=17),
        services=("lunch",),
        portions=96,
        area_m2=1.4,
        rest_minutes=60,
        hold_minutes_p50=240,
        spare_minutes_p50=240,
        chance=0.97,
    )


def step(what: str, at: datetime, **about: str) -> PlannedStep:
    """A quarter of an hour's work of one kind, named after what it is about."""
    subject = next(iter(about.values()))
    return PlannedStep(
        id=f"{subject}.{what}",
        at=at,
        ends_at=at + timedelta(minutes=15),
        what=what,
        who=None,
        load=about.get("load"),
        batch=about.get("batch"),
        minutes=15,
        pit=about.get("pit"),
    )


def glaze() -> PlannedBatch:
    """A glaze made in the morning for the brisket."""
    made = LOADED + timedelta(hours=10)
    return PlannedBatch(
        id="1209-glaze-1",
        recipe="cider-glaze",
        kind="glaze",
        amount_kg=2.4,
        make_by=made,
        ready_from=made + timedelta(minutes=30),
        use_by=made + timedelta(days=3),
        loads=("1209-brisket-1",),
    )


def plan(*loads: PlannedLoad, day: date = DAY) -> Plan:
    """A plan of these loads (one brisket when none are given), their steps, and the glaze."""
    loads = loads or (brisket(),)
    steps = [
        made
        for load in loads
        for made in (
            step("rub", load.load_at - timedelta(hours=4), load=load.id),
            step("load", load.load_at, load=load.id),
            step("wrap", load.load_at + timedelta(hours=7), load=load.id),
            step("pull", load.pull_at.p50, load=load.id),
            step("slice", load.needed_at, load=load.id),
        )
    ]
    light = step("light", loads[0].light_at, pit=loads[0].pit)
    batch = glaze()
    made = step("make", batch.make_by - timedelta(minutes=15), batch=batch.id)
    return Plan(
        house="Cinder & Rye",
        day=day,
        zone=ZONE,
        result="good",
        cost=100.0,
        bound=95.0,
        loads=loads,
        steps=(light, *steps, made),
        batches=(batch,),
        short=(),
    )
