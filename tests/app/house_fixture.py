"""A small invented house and a hand-made plan of its Saturday, for tests of what people see."""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from board.house.model import (
    Composition,
    Cut,
    Display,
    Handling,
    Hold,
    House,
    Ingredient,
    Item,
    Person,
    Pit,
    PitKind,
    Recipe,
    RecipeKind,
    Recurrence,
    Service,
    Shift,
    Size,
    StepRule,
    Work,
    Wrap,
    WrapMaterial,
    Yields,
)
from board.house.spans import Spread, TimeSpan
from board.planning.plan import Occasion, Plan, PlannedBatch, PlannedLoad, PlannedStep, Short

ZONE = "America/Chicago"
DAY = date(2026, 12, 19)
BEEF = Composition(0.65, 0.19, 0.15, 0.01)


def at(clock: str, days: int = 0) -> datetime:
    """A time of day of the fixture's Saturday, or of so many days later, in UTC."""
    hour, minute = clock.split(":")
    day = DAY + timedelta(days=days)
    return datetime.combine(day, time(int(hour), int(minute)), ZoneInfo(ZONE)).astimezone(UTC)


def cut(id: str, name: str, kg: float, pull_c: float, handling: Handling = Handling.INTACT_ROAST) -> Cut:
    """A cut with the particulars the views read; the rest plausible."""
    kept = Spread(0.9, 0.92, 0.95)
    return Cut(
        id=id,
        name=name,
        animal="beef",
        handling=handling,
        composition=BEEF,
        mass_kg=Spread(kg * 0.9, kg, kg * 1.1),
        size=Size(kg, 0.08, 0.25, 0.4, "slab", "isometric", 0.9),
        area_m2=0.12,
        pit_c=Spread(107, 118, 135),
        pull_core_c=pull_c,
        wrap=Wrap(WrapMaterial.PAPER, 74, Work(5, 1.5)) if id == "brisket" else None,
        rest_minutes=(60, 240),
        hold_longest_minutes=240,
        yields=Yields(kept, kept, kept),
        prep=(StepRule("rub", Work(10, 2), (60, 960), "pepper-rub", chilled=True),),
        pull_least_c=pull_c - 2.0,
    )


def pit(id: str, name: str, kind: PitKind) -> Pit:
    """A pit with the particulars the views read."""
    return Pit(
        id=id,
        name=name,
        kind=kind,
        area_m2=2.4,
        setpoint_c=(95, 180),
        warm_up_minutes=75,
        fuel="oak",
        fuel_kg_per_hour=4,
        fuel_price_per_kg=0.4,
        h_c_w_m2k=Spread(8, 12, 18),
        humidity_ratio=Spread(0.01, 0.02, 0.04),
        control_band_c=8,
    )


def recipe(id: str, name: str, kind: RecipeKind) -> Recipe:
    """A recipe with two ingredients."""
    return Recipe(
        id=id,
        name=name,
        kind=kind,
        ingredients=(
            Ingredient("water", 4.0, "kg", "water", 1.0),
            Ingredient("salt", 0.25, "kg", "salt"),
        ),
        use_kg_a_kg=0.5 if kind is RecipeKind.BRINE else 0.05,
        make_work=Work(25),
        ready_after_minutes=0,
        keeps_minutes=2880,
        pickup=0.1 if kind is RecipeKind.BRINE else 0.0,
    )


def shift(id: str, name: str, people: tuple[str, ...], start: str, hours: float) -> Shift:
    """A crew that works the same hours each day."""
    hour, minute = start.split(":")
    return Shift(
        id, name, people, Recurrence(date(2026, 1, 1), time(int(hour), int(minute)), hours * 60, "FREQ=DAILY")
    )


def house() -> House:
    """Cinder Lane: four pits, five cuts, three recipes, five people."""
    cuts = [
        cut("brisket", "brisket", 6.4, 95),
        cut("pork-shoulder", "shoulder", 3.6, 94),
        cut("chicken-half", "chicken half", 0.8, 74, Handling.POULTRY),
        cut("spare-ribs", "rib rack", 1.4, 88),
        cut("ham-boneless", "ham", 4.0, 65, Handling.CURED_HAM),
    ]
    daily = "FREQ=DAILY"
    return House(
        id="cinder-lane",
        name="Cinder Lane",
        zone=ZONE,
        altitude_m=120,
        chance=0.9,
        display=Display(),
        wage_per_hour=18,
        pits={
            p.id: p
            for p in (
                pit("north", "North", PitKind.OFFSET),
                pit("south", "South", PitKind.CABINET),
                pit("alcove", "Alcove", PitKind.ROTISSERIE),
                pit("little", "Little", PitKind.DIRECT),
            )
        },
        holds={
            "bench": Hold("bench", "bench", 3.0),
            "hold": Hold("hold", "hold", 4.0, 65),
        },
        walk_in_kg=900,
        cuts={c.id: c for c in cuts},
        items={
            "brisket-plate": Item("brisket-plate", "brisket", "brisket", portion_kg=0.18),
            "pork-plate": Item("pork-plate", "pork", "pork-shoulder", portion_kg=0.16),
            "half-bird": Item("half-bird", "chicken", "chicken-half", portions_a_piece=1),
            "ribs": Item("ribs", "ribs", "spare-ribs", portions_a_piece=2),
            "ham-plate": Item("ham-plate", "ham", "ham-boneless", portion_kg=0.15),
        },
        recipes={
            r.id: r
            for r in (
                recipe("poultry-brine", "poultry brine", RecipeKind.BRINE),
                recipe("cider-glaze", "cider glaze", RecipeKind.GLAZE),
                recipe("pepper-rub", "pepper rub", RecipeKind.RUB),
            )
        },
        people={
            p.id: p
            for p in (
                Person("ines", "Ines"),
                Person("tomas", "Tomas"),
                Person("wren", "Wren"),
                Person("odile", "Odile"),
                Person("bram", "Bram"),
            )
        },
        shifts=(
            shift("overnight", "overnight", ("ines",), "21:00", 9),
            shift("opening", "opening", ("tomas", "wren"), "05:30", 8),
            shift("service", "service", ("odile", "bram"), "10:30", 10),
        ),
        services={
            "lunch": Service(
                "lunch",
                "lunch",
                Recurrence(date(2026, 1, 1), time(11), 180, daily),
                {"brisket-plate": 90, "pork-plate": 80, "half-bird": 60, "ham-plate": 24},
            ),
            "dinner": Service(
                "dinner",
                "dinner",
                Recurrence(date(2026, 1, 1), time(17), 240, daily),
                {"brisket-plate": 60, "half-bird": 50, "ribs": 70},
            ),
        },
    )


def span(p10: str, p50: str, p90: str) -> TimeSpan:
    """A likely range of times on the fixture's Saturday."""
    return TimeSpan(at(p10), at(p50), at(p90))


def load(id: str, meat: tuple[int, str, str], pit_id: str, loaded: datetime, **facts: object) -> PlannedLoad:
    """A planned load from the particulars that differ."""
    pieces, cut_id, item = meat
    kg = house().cuts[cut_id].mass_kg.usual
    pull, ready = facts["pull"], facts["ready"]
    needed = facts["needed"]
    assert isinstance(pull, TimeSpan)
    assert isinstance(ready, TimeSpan)
    assert isinstance(needed, datetime)
    wrap = facts.get("wrap")
    assert wrap is None or isinstance(wrap, datetime)
    portions = facts["portions"]
    assert isinstance(portions, int)
    services = facts.get("services", ("lunch",))
    assert isinstance(services, tuple)
    setpoint = facts.get("setpoint", 118.0)
    assert isinstance(setpoint, float)
    return PlannedLoad(
        id=id,
        cut=cut_id,
        item=item,
        pieces=pieces,
        mass_kg=kg * pieces,
        pit=pit_id,
        setpoint_c=setpoint,
        light_at=loaded - timedelta(minutes=75),
        load_at=loaded,
        wrap_at=wrap,
        pull_at=pull,
        ready_at=ready,
        needed_at=needed,
        services=services,
        portions=portions,
        area_m2=min(2.2, 0.12 * pieces),
        rest_minutes=(ready.p50 - pull.p50).total_seconds() / 60,
        hold_minutes_p50=(needed - ready.p50).total_seconds() / 60,
        spare_minutes_p50=(needed - ready.p50).total_seconds() / 60 - 15,
        chance=0.96,
        bench="bench",
        hold="hold",
    )


def loads() -> tuple[PlannedLoad, ...]:
    """Saturday's loads: three overnight, three in the day."""
    return (
        load("sat-brisket", (12, "brisket", "brisket-plate"), "north", at("19:12", -1), wrap=at("02:05"),
             pull=span("05:40", "06:50", "08:00"), ready=span("06:40", "07:50", "09:00"),
             needed=at("11:00"), portions=96, services=("lunch", "dinner")),
        load("sat-shoulder", (6, "pork-shoulder", "pork-plate"), "south", at("20:10", -1), setpoint=121.0,
             pull=span("05:10", "05:45", "06:30"), ready=span("06:10", "06:45", "07:30"),
             needed=at("11:00"), portions=70),
        load("sat-ham", (4, "ham-boneless", "ham-plate"), "little", at("04:40"), setpoint=107.0,
             pull=span("08:45", "09:30", "10:25"), ready=span("09:15", "10:00", "10:55"),
             needed=at("11:00"), portions=24),
        load("sat-chicken", (60, "chicken-half", "half-bird"), "alcove", at("08:30"), setpoint=135.0,
             pull=span("10:05", "10:20", "10:40"), ready=span("10:15", "10:30", "10:50"),
             needed=at("11:00"), portions=60),
        load("sat-ribs", (35, "spare-ribs", "ribs"), "south", at("11:30"), setpoint=121.0,
             pull=span("15:20", "15:50", "16:25"), ready=span("15:40", "16:10", "16:45"),
             needed=at("17:00"), portions=70, services=("dinner",)),
        load("sat-birds", (50, "chicken-half", "half-bird"), "alcove", at("14:20"), setpoint=135.0,
             pull=span("15:50", "16:10", "16:30"), ready=span("16:00", "16:20", "16:40"),
             needed=at("17:00"), portions=50, services=("dinner",)),
    )  # fmt: skip


def step(
    id: str, when: datetime, what: str, minutes: float, *people_and_load: str, **more: str
) -> PlannedStep:
    """One planned step: who does it, and for which load if for one."""
    who, load = people_and_load[0], people_and_load[1] if len(people_and_load) > 1 else None
    ends = when + timedelta(minutes=minutes)
    return PlannedStep(id, when, ends, what, who, load, more.get("batch"), minutes, more.get("pit"))


def steps() -> tuple[PlannedStep, ...]:
    """Saturday's steps, the evening before included."""
    return (
        step("s-make-rub", at("05:40", -1), "make", 10, "wren", batch="b-rub"),
        step("s-rub-brisket", at("16:00", -1), "rub", 30, "odile", "sat-brisket"),
        step("s-light-north", at("17:55", -1), "light", 10, "odile", pit="north"),
        step("s-load-brisket", at("19:12", -1), "load", 25, "odile", "sat-brisket", pit="north"),
        step("s-load-shoulder", at("20:10", -1), "load", 15, "odile", "sat-shoulder", pit="south"),
        step("s-wrap-brisket", at("02:05"), "wrap", 20, "ines", "sat-brisket", pit="north"),
        step("s-load-ham", at("04:40"), "load", 10, "ines", "sat-ham", pit="little"),
        step("s-pull-shoulder", at("05:45"), "pull", 10, "tomas", "sat-shoulder", pit="south"),
        step("s-make-glaze", at("06:15"), "make", 25, "wren", batch="b-glaze"),
        step("s-pull-brisket", at("06:50"), "pull", 15, "tomas", "sat-brisket", pit="north"),
        step("s-light-alcove", at("07:10"), "light", 5, "tomas", pit="alcove"),
        step("s-load-chicken", at("08:30"), "load", 15, "tomas", "sat-chicken", pit="alcove"),
        step("s-pull-ham", at("09:30"), "pull", 10, "wren", "sat-ham", pit="little"),
        step("s-glaze-ham", at("10:00"), "glaze", 10, "wren", "sat-ham"),
        step("s-pull-chicken", at("10:20"), "pull", 10, "tomas", "sat-chicken", pit="alcove"),
        step("s-slice-brisket", at("10:45"), "slice", 15, "bram", "sat-brisket"),
        step("s-load-ribs", at("11:30"), "load", 15, "odile", "sat-ribs", pit="south"),
        step("s-load-birds", at("14:20"), "load", 15, "odile", "sat-birds", pit="alcove"),
    )


def plan() -> Plan:
    """Saturday's plan: lunch is ten portions short of pork."""
    return Plan(
        house="cinder-lane",
        day=DAY,
        zone=ZONE,
        result="short",
        cost=2040.0,
        bound=1960.0,
        loads=loads(),
        steps=steps(),
        batches=(
            PlannedBatch("b-glaze", "cider-glaze", "glaze", 2.4, at("06:40"), at("06:40"), at("06:40", 2),
                         ("sat-ham",)),
            PlannedBatch("b-rub", "pepper-rub", "rub", 1.9, at("06:00", -1), at("06:00", -1), at("06:00", 9),
                         ("sat-brisket",)),
        ),
        short=(Short("lunch", "pork-plate", 10, "South is full until 06:30",
                     ("light Little at 18:40 the evening before: 9 kg more wood",)),),
        occasions=(
            Occasion("lunch", "lunch", at("11:00"), at("14:00"),
                     {"brisket-plate": 90, "pork-plate": 80, "half-bird": 60, "ham-plate": 24}),
            Occasion("dinner", "dinner", at("17:00"), at("21:00"),
                     {"brisket-plate": 60, "half-bird": 50, "ribs": 70}),
        ),
        why={
            "sat-brisket": (
                "11:00 less 15 to slice and 60 to rest: pull by 09:45",
                "9 times in 10 done within 12 h 50 on North at 118°",
                "latest 20:55; Odile is busy from 20:10 with South",
                "so 19:12: ready in time 96 times in 100, likely held 3 h",
            )
        },
    )  # fmt: skip


def sunday() -> Plan:
    """Sunday's plan: one load whose brine is made on Saturday."""
    saturday = plan()
    bird = load("sun-chicken", (24, "chicken-half", "half-bird"), "alcove", at("08:30", 1), setpoint=135.0,
                pull=TimeSpan(at("10:05", 1), at("10:20", 1), at("10:40", 1)),
                ready=TimeSpan(at("10:15", 1), at("10:30", 1), at("10:50", 1)),
                needed=at("11:00", 1), portions=24)  # fmt: skip
    return Plan(
        house=saturday.house,
        day=DAY + timedelta(days=1),
        zone=ZONE,
        result="good",
        cost=400,
        bound=390,
        loads=(bird,),
        steps=(
            step("u-make-brine", at("13:35"), "make", 25, "wren", batch="b-brine"),
            step("u-brine-chicken", at("18:00"), "brine", 20, "bram", "sun-chicken", batch="b-brine"),
            step("u-load-chicken", at("08:30", 1), "load", 15, "tomas", "sun-chicken", pit="alcove"),
        ),
        batches=(
            PlannedBatch("b-brine", "poultry-brine", "brine", 18.5, at("14:00"), at("17:30"), at("14:00", 2),
                         ("sun-chicken",)),
        ),
        short=(),
        occasions=(Occasion("lunch", "lunch", at("11:00", 1), at("14:00", 1), {"half-bird": 24}),),
    )  # fmt: skip
