"""Our two themes, warm dark and warm light: few colours, each with one meaning."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from rich.color import Color
from rich.style import Style
from textual.theme import Theme

from board.views.canvas import Shade
from board.views.text import Tone

DARK, LIGHT = "ember", "ash"


@dataclass(frozen=True)
class Palette:
    """The colours of one theme, as hex; `cold` and `hot` are the ends of the heat."""

    ground: str
    bar: str
    chosen: str
    ink: str
    quiet: str
    head: str
    heat: str
    good: str
    care: str
    late: str
    cold: str
    hot: str
    rest: str
    hold: str
    room: str
    on_heat: str


PALETTES: Mapping[str, Palette] = {
    DARK: Palette(
        ground="#16120f",
        bar="#221d18",
        chosen="#47281a",
        ink="#ece4d9",
        quiet="#94887b",
        head="#dcb886",
        heat="#f08a4b",
        good="#86b07f",
        care="#e6b04a",
        late="#ee6a5c",
        cold="#4a2a1b",
        hot="#e9763b",
        rest="#a68f6e",
        hold="#47603f",
        room="#52626f",
        on_heat="#fff6ea",
    ),
    LIGHT: Palette(
        ground="#faf5ec",
        bar="#eee4d4",
        chosen="#f6d9bf",
        ink="#2b231c",
        quiet="#76695b",
        head="#7a4d12",
        heat="#b3470f",
        good="#2f6b33",
        care="#8a5a00",
        late="#b3261e",
        cold="#f3d6bb",
        hot="#dd6a2c",
        rest="#d8c39d",
        hold="#a9c49e",
        room="#8fa0ad",
        on_heat="#2b1608",
    ),
}


def themes() -> list[Theme]:
    """The themes as Textual knows them."""
    return [_theme(name, palette) for name, palette in PALETTES.items()]


def _theme(name: str, palette: Palette) -> Theme:
    return Theme(
        name=name,
        primary=palette.heat,
        secondary=palette.head,
        accent=palette.care,
        foreground=palette.ink,
        background=palette.ground,
        surface=palette.bar,
        panel=palette.bar,
        success=palette.good,
        warning=palette.care,
        error=palette.late,
        dark=name == DARK,
    )


def palette_of(theme: str) -> Palette:
    """The colours of a theme; the dark ones for a theme that is not ours."""
    return PALETTES.get(theme, PALETTES[DARK])


@lru_cache(maxsize=256)
def tone_style(theme: str, tone: Tone, ground: str = "") -> Style:
    """How a tone looks on the view's ground, or on another."""
    palette = palette_of(theme)
    inks = {
        Tone.PLAIN: palette.ink,
        Tone.STRONG: palette.ink,
        Tone.QUIET: palette.quiet,
        Tone.HEAD: palette.head,
        Tone.HEAT: palette.heat,
        Tone.GOOD: palette.good,
        Tone.CARE: palette.care,
        Tone.LATE: palette.late,
    }
    bold = tone in (Tone.STRONG, Tone.HEAD, Tone.LATE)
    return Style(color=inks[tone], bgcolor=ground or palette.ground, bold=bold)


@lru_cache(maxsize=256)
def warm_style(theme: str, warmth: float, ground: str = "") -> Style:
    """The ink of a heat curve at one warmth, from 0 to 1."""
    palette = palette_of(theme)
    return Style(color=_between(palette.rest, palette.hot, warmth), bgcolor=ground or palette.bar)


@lru_cache(maxsize=2048)
def dot_style(theme: str, ink: Shade, under: Shade, level: float) -> Style:
    """How one drawn dot of the timeline looks; ink without a shade melts into its ground."""
    palette = palette_of(theme)
    ground = _ground(palette, under, level)
    if ink is Shade.NONE:
        return Style(color=_between(ground, palette.on_heat, 0.13), bgcolor=ground)
    inks = {
        Shade.PLAIN: palette.ink,
        Shade.QUIET: palette.quiet,
        Shade.STRONG: palette.ink if under is Shade.NONE else palette.on_heat,
        Shade.HEAT: palette.heat,
        Shade.WRAPPED: palette.heat,
        Shade.FINISH: palette.heat,
        Shade.REST: palette.rest,
        Shade.HOLD: palette.good,
        Shade.ROOM: palette.room,
        Shade.SERVICE: palette.care,
        Shade.NOW: palette.heat,
        Shade.LATE: palette.late,
    }
    return Style(color=inks[ink], bgcolor=ground, bold=ink in (Shade.STRONG, Shade.LATE))


def _ground(palette: Palette, shade: Shade, level: float) -> str:
    match shade:
        case Shade.HEAT:
            return _between(palette.cold, palette.hot, level)
        case Shade.WRAPPED:
            return _between(_between(palette.cold, palette.hot, level), palette.rest, 0.35)
        case Shade.FINISH:
            return _between(palette.ground, palette.hot, 0.1 + 0.75 * level)
        case Shade.REST:
            return palette.rest
        case Shade.HOLD:
            return palette.hold
        case _:
            return palette.ground


def _between(start: str, end: str, fraction: float) -> str:
    first, last = Color.parse(start).get_truecolor(), Color.parse(end).get_truecolor()
    red, green, blue = (round(a + (b - a) * fraction) for a, b in zip(first, last, strict=True))
    return f"#{red:02x}{green:02x}{blue:02x}"
