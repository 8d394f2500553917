"""Reading cuts.toml and items.toml: a cut starts from the library, and the house overrides it."""

from collections.abc import Mapping
from dataclasses import fields, replace

from board.house import kinds, units
from board.house.library import PIECE_KG, library_cuts
from board.house.model import (
    Composition,
    Cut,
    Handling,
    Item,
    Size,
    Work,
    Wrap,
    WrapMaterial,
    Yields,
)
from board.house.read_steps import read_step, read_work
from board.house.spans import Spread
from board.house.tables import Table, fraction

SHAPES = ("taper", "slab", "block", "ecyl", "dcyl", "ellip", "cyl", "bird", "shell", "dome")
UNWRAPPED = "none"
SCALES = ("isometric", "length", "thickness_fixed")
BOILING_C = 100.0  # of water at the sea
SAME_K = 0.5  # 121 C written as 250 F is still at the end of its range
LONGEST_TENDER_MINUTES = 24 * 60.0
SHORTEST_WAVE_MINUTES, LONGEST_WAVE_MINUTES = 10.0, 24 * 60.0
# a link sausage and a whole hog bound what a house loads as one piece


def read_cuts(file: Table | None, recipes: Mapping[str, object]) -> dict[str, Cut]:
    """The house's cuts by id, then the library's under the ids the house leaves free."""
    own = {row.id: _cut(row, recipes) for row in file.named()} if file else {}
    if file:
        file.done()
    return own | {id: cut for id, cut in library_cuts().items() if id not in own}


def read_items(file: Table, cuts: Mapping[str, Cut], recipes: Mapping[str, object]) -> dict[str, Item]:
    """The items of items.toml by id; raises HouseFileError for an item of an unknown cut."""
    items = {row.id: _item(row, cuts, recipes) for row in file.named()}
    file.done()
    return items


def _cut(row: Table, recipes: Mapping[str, object]) -> Cut:
    known = library_cuts()
    like = row.one_of("like", tuple(known), row.id if row.id in known else None)
    base = known[like]
    mass = _mass(row, base.mass_kg)
    size = _size(row, base.size)
    pit_c = _pit_range(row, base.pit_c)
    cut = Cut(
        id=row.id,
        name=row.text("name", base.name if row.id == like else row.id.replace("-", " ")),
        animal=row.text("animal", base.animal),
        handling=row.choice("handling", Handling, base.handling),
        composition=_composition(row, base.composition),
        mass_kg=mass,
        size=size,
        area_m2=row.area_m2("area", base.area_m2 * _grate_growth(size, mass.usual / base.mass_kg.usual)),
        pit_c=pit_c,
        pull_core_c=row.temperature_c("pull", base.pull_core_c),
        wrap=_wrap(row, base.wrap, pit_c),
        rest_minutes=row.minutes_pair("rest", base.rest_minutes),
        hold_longest_minutes=row.minutes("hold_longest", base.hold_longest_minutes),
        yields=_yields(row, base.yields),
        prep=tuple(read_step(each, recipes, raw=True) for each in row.tables("prep")),
        load_work=read_work(row, "load_work", base.load_work),
        pull_work=read_work(row, "pull_work", base.pull_work),
        start_c=row.temperature_c("start", base.start_c),
        tender_minutes=row.minutes("tender", base.tender_minutes),
        tender_core_c=_tender_core_c(row, base),
        pull_least_c=_pull_least_c(row, base),
        source=row.text("source", f"the house's own; else {base.source}"),
    )
    row.done()
    _check_end(row, cut)
    return cut


def _check_end(row: Table, cut: Cut) -> None:
    """A piece goes on thawed, and comes off at a core that wet meat can have, within a day of tenderness."""
    if not 0.0 <= cut.start_c < BOILING_C:
        raise row.refuse("start", "a core that is thawed and raw such as 4 C or 40 F")
    for key, core_c in (("pull", cut.pull_core_c), ("tender_core", cut.tender_core_c)):
        if core_c is not None and not cut.start_c < core_c < BOILING_C:
            raise row.refuse(key, "a core above its start and below boiling such as 203 F")
    if cut.tender_minutes > LONGEST_TENDER_MINUTES:
        raise row.refuse("tender", "a time up to 24 h such as 2 h 30")


def _mass(row: Table, base: Spread) -> Spread:
    """Low, usual and high mass; a single usual one keeps the library's relative spread."""
    if row.has("mass") and not row.is_list("mass"):
        usual = row.mass_kg("mass")
        mass = Spread(*(usual * m / base.usual for m in (base.low, base.usual, base.high)))
    else:
        example = f'{kinds.MASS.allowed}, or ["10 lb", "14 lb", "18 lb"]'
        mass = row.spread("mass", units.parse_mass_kg, example, base)
    if not PIECE_KG[0] <= mass.low <= mass.high <= PIECE_KG[1]:
        raise row.refuse("mass", "the mass of one piece, from 10 g to 150 kg")
    return mass


def _pit_range(row: Table, base: Spread) -> Spread:
    """Lowest, usual and highest pit temperature; a single usual one stretches the library's range to it."""
    if row.has("pit") and not row.is_list("pit"):
        usual = row.temperature_c("pit")
        return Spread(min(base.low, usual), usual, max(base.high, usual))
    example = f'{kinds.TEMPERATURE.allowed}, or ["225 F", "245 F", "275 F"]'
    return row.spread("pit", units.parse_temperature_c, example, base)


def _pull_least_c(row: Table, base: Cut) -> float | None:
    """The low end of its pull: as far below the house's own as the library's lies below its usual one."""
    if base.pull_least_c is None:
        return None
    return row.temperature_c("pull", base.pull_core_c) - (base.pull_core_c - base.pull_least_c)


def _tender_core_c(row: Table, base: Cut) -> float | None:
    """The least core a tender piece comes off at; a house that gives its own pull pulls no cooler."""
    if row.has("tender_core"):
        return row.temperature_c("tender_core")
    return None if row.has("pull") else base.tender_core_c


def _grate_growth(size: Size, mass_ratio: float) -> float:
    """How the grate a piece takes grows with its mass: two sides of three, or in proportion."""
    return mass_ratio ** (2 / 3) if size.scale == "isometric" else mass_ratio


def _size(row: Table, base: Size) -> Size:
    given = row.table("size")
    if given is None:
        return base
    size = replace(
        base,
        at_kg=given.mass_kg("at", base.at_kg),
        thickness_m=given.length_m("thickness", base.thickness_m),
        width_m=given.length_m("width", base.width_m),
        length_m=given.length_m("length", base.length_m),
        shape=given.one_of("shape", SHAPES, base.shape),
        scale=given.one_of("scale", SCALES, base.scale),
        fill=given.fraction("fill", base.fill),
    )
    if given.has("equivalent_thickness"):
        size = replace(size, equivalent_thickness_m=given.length_m("equivalent_thickness"))
    if given.has("thin_end"):
        size = replace(size, thin_end_m=given.length_m("thin_end"))
    elif base.thin_end_m is not None:
        size = replace(size, thin_end_m=base.thin_end_m * size.thickness_m / base.thickness_m)
    given.done()
    for key, value in (("thickness", size.thickness_m), ("width", size.width_m), ("length", size.length_m)):
        if not 0 < value <= 3:
            raise given.refuse(key, "a length above nought and below 3 m")
    if size.thin_end_m is not None and not 0 < size.thin_end_m <= size.thickness_m:
        raise given.refuse("thin_end", "a length above nought, no thicker than the thick end")
    return size


def _composition(row: Table, base: Composition) -> Composition:
    given = row.table("composition")
    if given is None:
        return base
    parts = {f.name: given.fraction(f.name, getattr(base, f.name)) for f in fields(Composition)}
    given.done()
    if abs(sum(parts.values()) - 1) > 0.05:
        raise row.refuse("composition", f"parts that sum to about 100 %, not {sum(parts.values()):.0%}")
    return Composition(**parts)


def _wrap(row: Table, base: Wrap | None, pit_c: Spread) -> Wrap | None:
    """A table of `in`, `at`, `work` and `then`, or the word none; the library's wrap when absent."""
    if not row.has("wrap"):
        return base
    if not row.is_table("wrap"):
        if row.text("wrap") != UNWRAPPED:
            raise row.refuse("wrap", f'"{UNWRAPPED}", or a table of in, at and work')
        return None
    given = row.needed_table("wrap")
    material = given.choice("in", WrapMaterial, base.material if base else None)
    at_c = given.temperature_c("at", base.at_core_c if base else None)
    wrap = Wrap(
        material, at_c, read_work(given, "work", base.work if base else Work(3.0, 2.0)), _then(given, pit_c)
    )
    given.done()
    return wrap


def _then(given: Table, pit_c: Spread) -> float | None:
    """The setpoint asked for from wrapping on, one the cut may cook at; None keeps it as it is."""
    if not given.has("then"):
        return None
    then_c = given.temperature_c("then")
    if not pit_c.low - SAME_K <= then_c <= pit_c.high + SAME_K:
        low, high = (f"{c:.0f} C" for c in (pit_c.low, pit_c.high))
        raise given.refuse("then", f"a setpoint within the cut's pit range, {low} to {high}")
    return then_c


def _yields(row: Table, base: Yields) -> Yields:
    given = row.table("yields")
    if given is None:
        return base
    found = Yields(
        _share(given, "trimmed", base.raw_to_trimmed),
        _share(given, "cooked", base.trimmed_to_cooked),
        _share(given, "served", base.cooked_to_served),
    )
    given.done()
    return found


def _share(given: Table, key: str, base: Spread) -> Spread:
    """A yield as low, usual, high; a single one narrows nothing: it moves the library's spread."""

    def read(raw: object) -> Spread:
        if isinstance(raw, list):
            low, usual, high = (fraction(each, 1.0) for each in raw)
        else:
            usual = fraction(raw, 1.0)
            low, high = usual * base.low / base.usual, min(1.0, usual * base.high / base.usual)
        if low <= 0:
            raise ValueError(raw)
        return Spread(low, usual, high)

    return given.value(key, base, read, 'a share above nought such as "60 %", or ["55 %", "60 %", "65 %"]')


def _item(row: Table, cuts: Mapping[str, Cut], recipes: Mapping[str, object]) -> Item:
    portion = row.mass_kg("portion") if row.has("portion") else None
    a_piece = row.number("portions_a_piece", low=0.1, high=1000) if row.has("portions_a_piece") else None
    if (portion is None) == (a_piece is None):
        raise row.refuse("portion", "one of portion (a mass) and portions_a_piece (a number)")
    item = Item(
        id=row.id,
        name=row.text("name", row.id.replace("-", " ")),
        cut=row.one_of("cut", tuple(cuts)),
        portion_kg=portion,
        portions_a_piece=a_piece,
        finish=tuple(read_step(each, recipes, raw=False) for each in row.tables("finish")),
        price=row.number("price", 0.0),
        fresh_minutes=_fresh_minutes(row),
    )
    row.done()
    return item


def _fresh_minutes(row: Table) -> float | None:
    """How often its portions come fresh through a service; None has all of them ready as it opens."""
    if not row.has("fresh_every"):
        return None
    minutes = row.minutes("fresh_every")
    if not SHORTEST_WAVE_MINUTES <= minutes <= LONGEST_WAVE_MINUTES:
        raise row.refuse("fresh_every", "a time from 10 min to 24 h such as 1 h")
    return minutes
