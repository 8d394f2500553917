"""The account of a cook in words and figures a pitmaster can argue with: titled tables, for any screen."""

from typing import TYPE_CHECKING

from board.cooking.account.figures import (
    Account,
    Change,
    Narrowed,
    Part,
    RuleOfThumb,
    Spreading,
    Stretch,
    Unknown,
    Worth,
)
from board.house.kinds import POUND_KG
from board.house.model import Display
from board.house.spans import Span
from board.house.units import format_mass, format_temperature
from board.house.wording import count, duration, plural
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone

if TYPE_CHECKING:
    from board.cooking.cook import Cook

FAHRENHEIT_K = 1.8
HOTTER = {"degC": 10.0, "degF": 25.0 / FAHRENHEIT_K}
MASS_STEPS = (1.0, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01)
LEAST_STEP_SHARE = 0.25  # of a piece, the most it is made heavier by
NO_DIFFERENCE_MINUTES = 1.5
LEAST_SHARE = 0.01

_PARTS = {
    Part.COLD: "the cold goes out",
    Part.WARMING: "warming",
    Part.STALL: "the stall",
    Part.LAST: "the last stretch",
    Part.WRAPPED: "wrapped",
    Part.SOFTENING: "hot, and getting tender",
}
_UNKNOWNS = {
    Unknown.PIT_HEAT: "how hard the pit heats the meat",
    Unknown.PIT_AIR: "the pit's swings, and the warm and cold places in it",
    Unknown.PIT_DAMP: "how damp the pit is",
    Unknown.PIECES: "how pieces differ in weight and girth",
    Unknown.SHAPE: "how thick and round this cut runs",
    Unknown.MEAT: "how meat carries and stores heat",
    Unknown.JUICE: "how much juice it gives, and when",
    Unknown.WRAP: "how tight the wrap is",
    Unknown.START: "how cold it is inside when loaded",
    Unknown.OTHER: "other things",
}
LEFT_OUT = (
    "The heat that fat carries off, bones, a rub's crust, smoke, the grate under the meat, pieces that "
    "touch, and a fire nobody looks after.",
    "An estimate says when to look; only a probe in the thickest place says that it is done.",
)


def hotter_k(display: Display) -> float:
    """The step of the setpoint an account is told for: a round one in the house's degrees."""
    return HOTTER.get(display.temperature, HOTTER["degC"])


def heavier_kg(cook: "Cook", display: Display) -> float:
    """The step of a piece's weight: a round one in the house's unit, at most a quarter of the piece."""
    unit = POUND_KG if display.mass == "lb" else 1.0
    most = LEAST_STEP_SHARE * cook.mass_kg / unit
    return unit * next((step for step in MASS_STEPS if step <= most), MASS_STEPS[-1])


def tables(account: Account, cook: "Cook", display: Display, read: Span | None = None) -> tuple[Table, ...]:
    """The whole account, a table a question; `read` is what readings have left of the span."""
    found = [
        _time(account, cook, display),
        _heat(account, cook, display),
        _worths(account, cook, display),
        _unknowns(account, read),
        _rule(account.rule, cook, display),
        _table("Not in the sums", [("", line) for line in LEFT_OUT]),
    ]
    return tuple(table for table in found if table.rows)


def _table(title: str, rows: list[tuple[str, str]], aside: str = "") -> Table:
    """Rows of a figure and what it is."""
    laid = tuple(
        Row(f"{title}/{i}", (Cell(figure, Tone.STRONG), Cell(says))) for i, (figure, says) in enumerate(rows)
    )
    return Table(title, (Column(right=True), Column(grow=True)), laid, aside)


def _time(account: Account, cook: "Cook", display: Display) -> Table:
    rows = [(duration(s.minutes), _stretch(s, display)) for s in account.stretches]
    if cook.pieces > 1:
        more = duration(account.slowest - account.middle)
        rows.append((f"+ {more}", f"for the slowest of {count(cook.pieces, cook.cut.name)}"))
    all_of = account.slowest if cook.pieces > 1 else account.middle
    half = f"half of all such cooks are done by {duration(account.span.p50)}"
    rows.append((f"= {duration(all_of)}", f"with nothing out of the ordinary; {half}"))
    return _table("Where the time goes", rows, "a middling piece")


def _stretch(stretch: Stretch, display: Display) -> str:
    """One stretch: its cores, and how much of its heat steam took."""
    low = format_temperature(stretch.from_c, display, unit=False)
    high = format_temperature(stretch.to_c, display, unit=False)
    share = max(0.0, stretch.steam_j_kg / stretch.heat_j_kg) if stretch.heat_j_kg > 0 else 0.0
    return f"{_PARTS[stretch.part]}, {low} to {high}: steam takes {_percent(share)}"


def _heat(account: Account, cook: "Cook", display: Display) -> Table:
    steam = account.steam_j_kg / account.heat_j_kg
    water = format_mass(account.steamed_kg_kg * cook.mass_kg, display)
    juice = format_mass(account.dripped_kg_kg * cook.mass_kg, display)
    each = "each piece" if cook.pieces > 1 else "the piece"
    rows = [
        (_percent(steam), f"goes into steam: {water} of water off {each}"),
        (_percent(1.0 - steam), f"warms the meat and its juice, of which {juice} drips off"),
    ]
    if account.fat_kg_kg > LEAST_SHARE:
        fat = format_mass(account.fat_kg_kg * cook.mass_kg, display)
        rows.append(("", f"{fat} of fat melts out besides"))
    return _table("Where the heat goes", rows)


def _worths(account: Account, cook: "Cook", display: Display) -> Table:
    rows = [(_later(worth.minutes), _worth(worth, cook, display)) for worth in account.worths]
    return _table("What each thing is worth", rows)


def _later(minutes: float) -> str:
    if abs(minutes) < NO_DIFFERENCE_MINUTES:
        return "the same"
    return f"{duration(abs(minutes))} {'longer' if minutes > 0 else 'sooner'}"


def _worth(worth: Worth, cook: "Cook", display: Display) -> str:
    def degrees(celsius: float) -> str:
        return format_temperature(celsius, display)

    had = f"instead of {cook.wrap.material}" if cook.wrap else "instead of open"
    step = f"{round(worth.amount * (FAHRENHEIT_K if display.temperature == 'degF' else 1.0))}°"
    set_c, pull_c, start_c = cook.setpoint_c, cook.until_core_c, cook.start_c
    says = {
        Change.HOTTER: f"a pit {step} hotter: {degrees(set_c + worth.amount)} instead of {degrees(set_c)}",
        Change.HEAVIER: f"each piece {format_mass(worth.amount, display)} heavier",
        Change.COLDER: f"from a cooler at {degrees(start_c - worth.amount)} instead of {degrees(start_c)}",
        Change.LATER_PULL: f"pulled at {degrees(pull_c + worth.amount)} instead of {degrees(pull_c)}",
        Change.SOFTER: f"softer: {round(100 * (worth.amount - 1))} % more time at its heat",
        Change.OPEN: f"left open {had}",
        Change.PAPER: f"paper at {degrees(worth.amount)} {had}",
        Change.FOIL: f"foil at {degrees(worth.amount)} {had}",
        Change.QUICKER_PIT: f"a pit that heats {round(100 * (worth.amount - 1))} % harder",
        Change.WET_PIT: "twice the water in the pit's air",
        Change.ONE_PIECE: f"one piece instead of the slowest of {worth.amount:.0f}",
    }
    return says[worth.change]


def _unknowns(account: Account, read: Span | None) -> Table:
    span = account.span
    told = [s for s in account.spreadings if s.share >= LEAST_SHARE]
    rows = [(_percent(s.share), _spreading(s, account.pit_h)) for s in told]
    rows.append(("", f"If this pit were known: {_between(account.known_pit)}."))
    if read is None:
        rows += [("", _narrowed(narrowed)) for narrowed in account.narrowed]
    else:
        rows.append(("", f"Your readings have narrowed it to {_between(read)}."))
    return _table("What makes it uncertain", rows, f"{_between(span)}, eight cooks of ten")


def _spreading(spreading: Spreading, pit_h: Span) -> str:
    says = _UNKNOWNS[spreading.unknown]
    if spreading.unknown is Unknown.PIT_HEAT:
        softer, harder = (abs(h / pit_h.p50 - 1.0) for h in (pit_h.p10, pit_h.p90))
        says += f" ({_percent(softer)} softer to {_percent(harder)} harder)"
    return f"{says}: {duration(spreading.sooner)} sooner to {duration(spreading.later)} longer"


def _narrowed(narrowed: Narrowed) -> str:
    after, readings = duration(narrowed.after_minutes), count(narrowed.readings, "reading")
    return f"With {readings} in the first {after} it narrows to about {_between(narrowed.span)}."


def _rule(rule: RuleOfThumb | None, cook: "Cook", display: Display) -> Table:
    """Hours by weight against the sums."""
    if rule is None:
        return _table("Hours by weight", [])
    rows = []
    if rule.practice:
        low, high = rule.practice
        at = format_temperature(cook.setpoint_c, display)
        mass = format_mass(cook.mass_kg, display)
        rows.append(("", f"Practice by weight gives {duration(low)} to {duration(high)} for {mass} at {at}."))
    usual = format_mass(rule.usual_kg, display)
    for weight in rule.weights:
        off = weight.by_rule - weight.here
        if weight.mass_kg == rule.usual_kg:
            continue
        word = "too long" if off > 0 else "too short"
        rows.append(
            (
                format_mass(weight.mass_kg, display),
                f"{duration(weight.here)} here; a rule that fits {plural(cook.cut.name)} of {usual} says "
                f"{duration(weight.by_rule)}, {duration(abs(off))} {word}",
            )
        )
    return _table("Hours by weight", rows)


def _between(span: Span) -> str:
    return f"{duration(span.p10)} to {duration(span.p90)}"


def _percent(share: float) -> str:
    return f"{100 * share:.0f} %"
