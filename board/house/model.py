"""A barbecue house as data: everything the sums may ask about it.

Floats are SI or carry their unit in the name: kg, m, m², °C, minutes. Moments are aware UTC;
times of day and dates belong to the house's zone.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time
from enum import StrEnum

from board.house.orders import Order
from board.house.past import PastCook, Sale
from board.house.probes import Keeping, Probe
from board.house.spans import Spread

JURISDICTIONS = ("us", "eu", "uk")  # the places whose rules of keeping food safe there is a table of


class Handling(StrEnum):
    """How a cut was handled, which decides the cooking rule that applies to it."""

    INTACT_ROAST = "intact-roast"
    INTACT_CUT = "intact-cut"
    INJECTED = "injected"
    GROUND = "ground"
    POULTRY = "poultry"
    STUFFED = "stuffed"
    CURED_HAM = "cured-ham"


class WrapMaterial(StrEnum):
    """What a piece is wrapped in on the pit."""

    PAPER = "paper"
    FOIL = "foil"


class PitKind(StrEnum):
    """How a pit heats its meat; the library knows each kind's usual behaviour."""

    OFFSET = "offset"
    CABINET = "cabinet"
    ROTISSERIE = "rotisserie"
    DIRECT = "direct"
    OVEN = "oven"


class RecipeKind(StrEnum):
    """What a recipe makes."""

    BRINE = "brine"
    CURE = "cure"
    RUB = "rub"
    GLAZE = "glaze"


class ChillWay(StrEnum):
    """How a boiled brine is cooled: ice weighed into its water, a bath of ice, or the walk-in."""

    ICE = "ice"
    ICE_BATH = "ice-bath"
    WALK_IN = "walk-in"


@dataclass(frozen=True, slots=True)
class Composition:
    """Mass fractions of the raw soft tissue; they sum to about one."""

    water: float
    protein: float
    fat: float
    ash: float
    carbohydrate: float = 0.0


@dataclass(frozen=True, slots=True)
class Size:
    """The proportions of a piece at a stated mass.

    `shape` is one of the library's shape classes (taper, slab, block, ecyl, dcyl, ellip, cyl, bird,
    shell, dome); `scale` says how it grows with mass: isometric, length, or thickness_fixed. The sides are
    those of the thick end, where the core is read; `thin_end_m` is the thickness of the other, where a
    piece has one.
    """

    at_kg: float
    thickness_m: float
    width_m: float
    length_m: float
    shape: str
    scale: str
    fill: float
    equivalent_thickness_m: float | None = None
    thin_end_m: float | None = None


@dataclass(frozen=True, slots=True)
class Yields:
    """Mass fractions kept from raw to trimmed, trimmed to cooked, cooked to served."""

    raw_to_trimmed: Spread
    trimmed_to_cooked: Spread
    cooked_to_served: Spread

    @property
    def raw_to_served(self) -> float:
        """The usual fraction of the raw mass that reaches the plate."""
        return self.raw_to_trimmed.usual * self.trimmed_to_cooked.usual * self.cooked_to_served.usual


@dataclass(frozen=True, slots=True)
class Work:
    """Hands-on time of a step: a fixed part and a part for each piece, in minutes."""

    fixed_minutes: float = 0.0
    minutes_a_piece: float = 0.0

    def minutes(self, pieces: int) -> float:
        """Hands-on minutes for so many pieces."""
        return self.fixed_minutes + self.minutes_a_piece * pieces


@dataclass(frozen=True, slots=True)
class StepRule:
    """One kind of work on a cut or an item, and the gap that must follow it.

    `gap_minutes` is the shortest and longest time from the end of this work to the start of the
    next one in the chain (for the last step before the pit: to loading). `recipe` names the batch
    it uses. `chilled` meat waits in the walk-in through the gap.
    """

    what: str
    work: Work
    gap_minutes: tuple[float, float]
    recipe: str | None = None
    chilled: bool = False


@dataclass(frozen=True, slots=True)
class Wrap:
    """Wrapping on the pit: in what, at which core temperature, and the hands it takes.

    `then_c` is a setpoint the pit may be brought to once the meat is wrapped; None keeps it as it is.
    """

    material: WrapMaterial
    at_core_c: float
    work: Work
    then_c: float | None = None


@dataclass(frozen=True, slots=True)
class Cut:
    """The meat as the butcher names it: its body, its yields and its cooking aims.

    `mass_kg` is one raw, trimmed-ready piece as bought. `start_c` is its core when loaded.
    `tender_minutes` is how long its core must stand at 93 °C, or as much longer where cooler, to be tender;
    0 for cuts that are done at their core. A tender piece comes off at no less than `tender_core_c`, or its
    pull where that is None. `pull_least_c` is the low end of the cores practice pulls it at, where known.
    `area_m2` is the grate one usual piece takes, gap included. `prep` runs in the order it is done,
    the last step's gap ending at loading.
    """

    id: str
    name: str
    animal: str
    handling: Handling
    composition: Composition
    mass_kg: Spread
    size: Size
    area_m2: float
    pit_c: Spread
    pull_core_c: float
    wrap: Wrap | None
    rest_minutes: tuple[float, float]
    hold_longest_minutes: float
    yields: Yields
    prep: tuple[StepRule, ...] = ()
    load_work: Work = Work(5.0, 1.0)
    pull_work: Work = Work(5.0, 0.5)
    start_c: float = 4.0
    source: str = "common practice, no source"
    tender_minutes: float = 0.0
    tender_core_c: float | None = None
    pull_least_c: float | None = None

    @property
    def end_core_c(self) -> float:
        """The least core it comes off at, as it is usually cooked: its pull, unless tenderness decides."""
        if self.tender_minutes == 0.0 or self.tender_core_c is None:
            return self.pull_core_c
        return self.tender_core_c


@dataclass(frozen=True, slots=True)
class Item:
    """What the guest buys, in portions, made from one cut.

    Either `portion_kg` of served meat, or `portions_a_piece` for cuts sold by the piece.
    `finish` is the work between the hold and the plate (glaze, slice), in order. `fresh_minutes` brings
    its portions in waves, so often through a service; None has all of them ready as it opens.
    """

    id: str
    name: str
    cut: str
    portion_kg: float | None = None
    portions_a_piece: float | None = None
    finish: tuple[StepRule, ...] = ()
    price: float = 0.0
    fresh_minutes: float | None = None


@dataclass(frozen=True, slots=True)
class Ingredient:
    """One line of a recipe.

    `basis` says what `amount` counts: "kg" (a mass, once for the recipe as written), "of meat" (a
    fraction of the meat's mass) or "of water" (a fraction of the recipe's water). `role` is salt,
    sugar, water, cure or other; `nitrite` and `nitrate` are mass fractions of a cure blend.
    """

    name: str
    amount: float
    basis: str
    role: str = "other"
    density_kg_l: float | None = None
    nitrite: float = 0.0
    nitrate: float = 0.0
    allergens: tuple[str, ...] = ()
    as_written: str = ""


@dataclass(frozen=True, slots=True)
class Recipe:
    """How a brine, cure, rub or glaze is made, dosed and kept.

    `use_kg_a_kg` is kilograms of the made batch for each kilogram of raw meat: the pickup of an
    injection, the cover of a brine, the coat of a rub or glaze. `pickup` is the mass fraction of the
    green meat that stays in it. `ready_after_minutes` runs from the end of making (a boiled brine
    must chill to 4 °C first); `keeps_minutes` from the same moment. It is boiled for `boil_minutes` after
    its making, and cooled by `chill` to `chilled_to_c` in the container `vessel`; `container` is what it is
    kept in, and its meat with it. None of these where the house does not say.
    A recipe dosed by surface has `use_kg_m2`, one dosed by volume `use_l_a_kg` (litres of batch for each
    kilogram of raw meat), and then no `use_kg_a_kg`. `product` is what a cure's limit is read for: whole,
    bacon or ground; None by the cut. `holes_m` is how far apart needle holes are, where the house says.
    """

    id: str
    name: str
    kind: RecipeKind
    ingredients: tuple[Ingredient, ...]
    use_kg_a_kg: float
    make_work: Work
    ready_after_minutes: float
    keeps_minutes: float
    pickup: float = 0.0
    immersed_minutes: float | None = None
    notes: tuple[str, ...] = ()
    boil_minutes: float = 0.0
    chill: ChillWay | None = None
    chilled_to_c: float = 4.0
    vessel: str | None = None
    container: str | None = None
    use_kg_m2: float = 0.0
    use_l_a_kg: float = 0.0
    product: str | None = None
    holes_m: float | None = None

    @property
    def cools_in(self) -> str | None:
        """The container it is made and cooled in: its vessel, or what it is kept in."""
        return self.vessel or self.container


@dataclass(frozen=True, slots=True)
class Container:
    """A pot or tub for batches, of which the house has `count`.

    `takes_kg` is what one holds of batch and meat together, `space_kg` the room one takes in the walk-in, as
    kilograms of meat; None for as much as is in it. `ua_w_k` is what it loses in W/K, by the way of cooling,
    where the house knows.
    """

    id: str
    name: str
    litres: float
    takes_kg: float
    count: int = 1
    space_kg: float | None = None
    ua_w_k: Mapping[ChillWay, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Recurrence:
    """A repeating time of day in the house's zone: an RFC 5545 rule from a first date.

    A single occasion has the rule None. `minutes` is elapsed time from each start.
    """

    first: date
    at: time
    minutes: float
    rule: str | None = None
    not_on: tuple[date, ...] = ()


@dataclass(frozen=True, slots=True)
class Zone:
    """A part of a pit with room of its own: `warmer_k` hotter than the setpoint, or cooler below nought.

    `level` 0 is the lowest; what lies in a higher level may drip on what lies below it.
    """

    id: str
    name: str
    area_m2: float
    warmer_k: float = 0.0
    level: int = 0


@dataclass(frozen=True, slots=True)
class Pit:
    """A pit: how it heats, how much it takes, what it costs to keep lit.

    `area_m2` is cooking area over all its shelves. `takes` lists cut ids; empty means any.
    `h_c_w_m2k` and `humidity_ratio` describe its air, from its kind's prior unless the house knows.
    `zones` share its fire and add up to its area; none means one zone. Each opening of its door costs the
    meat on it `door_minutes`; bringing it to another setpoint takes `change_over_minutes`.
    """

    id: str
    name: str
    kind: PitKind
    area_m2: float
    setpoint_c: tuple[float, float]
    warm_up_minutes: float
    fuel: str
    fuel_kg_per_hour: float
    fuel_price_per_kg: float
    h_c_w_m2k: Spread
    humidity_ratio: Spread
    control_band_c: float
    light_work: Work = Work(10.0)
    tend_fraction: float = 0.0
    takes: frozenset[str] = frozenset()
    out_of_use: tuple[Recurrence, ...] = ()
    zones: tuple[Zone, ...] = ()
    door_minutes: float = 0.0
    change_over_minutes: float = 20.0


@dataclass(frozen=True, slots=True)
class Hold:
    """A place off the fire: a resting bench (no setpoint) or a hot hold kept at `setpoint_c`."""

    id: str
    name: str
    area_m2: float
    setpoint_c: float | None = None


@dataclass(frozen=True, slots=True)
class Person:
    """Someone on the crew; `can` lists the step kinds they do, empty means any."""

    id: str
    name: str
    can: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Break:
    """A pause in a shift; its people take it in turn, the first of them `after_minutes` into it."""

    after_minutes: float
    minutes: float


@dataclass(frozen=True, slots=True)
class Shift:
    """A repeating stretch of work for some people; the name is the crew's (opening, overnight)."""

    id: str
    name: str
    people: tuple[str, ...]
    when: Recurrence
    breaks: tuple[Break, ...] = ()


@dataclass(frozen=True, slots=True)
class Service:
    """A repeating or single serving time and what is promised at it, in portions an item.

    `fresh` names, for an item, the times of day at which it comes in waves at this service; `due` the moment
    at which it opens on single days, in place of what repeats.
    """

    id: str
    name: str
    when: Recurrence
    promises: Mapping[str, int]
    chance: float | None = None
    fresh: Mapping[str, tuple[time, ...]] = field(default_factory=dict)
    due: Mapping[date, datetime] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Display:
    """The units and clock a house reads."""

    mass: str = "kg"
    temperature: str = "degC"
    volume: str = "L"
    clock_hours: int = 24


# what an instrument shows: below so many grams or millilitres, its step in them, rising, and the unit it is
# written in; the last may have no end
Steps = tuple[tuple[float, float, str], ...]


@dataclass(frozen=True, slots=True)
class Scales:
    """What the house's scales and jugs show, in grams and millilitres; `fine` is the scale for cures."""

    fine: Steps
    bench: Steps
    jug: Steps


@dataclass(frozen=True, slots=True)
class Checks:
    """How often a house reads what it keeps warm and cold, minutes; common practice, no source.

    `walk_in` asks for a reading of the walk-in in each shift.
    """

    hot_minutes: float = 120.0
    cold_minutes: float = 240.0
    walk_in: bool = True


@dataclass(frozen=True, slots=True)
class AlarmLimits:
    """When the board rings: minutes each; the usual figures and where they are from are data/alarms.toml.

    `pit_off_k` is how far a pit's air may be off its setpoint; None takes each pit's own control band.
    """

    late_minutes: float
    very_late_minutes: float
    spare_minutes: float
    settle_minutes: float
    pit_off_k: float | None
    pit_minutes: float
    pit_unread_minutes: float
    hold_minutes: float
    batch_minutes: float
    check_minutes: float


@dataclass(frozen=True, slots=True)
class House:
    """The whole house, read from its files.

    `weighing` holds what the house itself says a lost portion, a fire or a minute is worth, in its money.
    `jurisdiction`, one of JURISDICTIONS, says whose rules of keeping food safe it goes by; `scales` what its
    scales and jugs show, `alarms` when the board rings, `keeping` how much of what its `probes` send is kept,
    None for the usual ones; `signs_with_pin` whether who signs shows a PIN.
    """

    id: str
    name: str
    zone: str
    altitude_m: float
    chance: float
    display: Display
    wage_per_hour: float
    pits: Mapping[str, Pit]
    holds: Mapping[str, Hold]
    walk_in_kg: float
    cuts: Mapping[str, Cut]
    items: Mapping[str, Item]
    recipes: Mapping[str, Recipe]
    people: Mapping[str, Person]
    shifts: tuple[Shift, ...]
    services: Mapping[str, Service]
    orders: tuple[Order, ...] = ()
    sales: tuple[Sale, ...] = field(default=(), repr=False)
    cooks: tuple[PastCook, ...] = field(default=(), repr=False)
    weighing: Mapping[str, float] = field(default_factory=dict)
    containers: Mapping[str, Container] = field(default_factory=dict)
    checks: Checks = Checks()
    jurisdiction: str = "us"
    scales: Scales | None = None
    alarms: AlarmLimits | None = None
    probes: Mapping[str, Probe] = field(default_factory=dict)
    keeping: Keeping | None = None
    signs_with_pin: bool = False

    def pot_of(self, recipe: Recipe) -> Container | None:
        """The container a recipe is made and cooled in; None where the house names none."""
        return self.containers.get(recipe.cools_in or "")
