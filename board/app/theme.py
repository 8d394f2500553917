"""Our three themes, warm dark, warm light and the terminal's own: few colours, each with one meaning."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from rich.color import Color
from rich.style import Style
from textual.theme import Theme

from board.views.canvas import Shade
from board.views.text import Tone

DARK, LIGHT, PLAIN = "ember", "ash", "plain"
THEMES = (DARK, LIGHT, PLAIN)
_OWN = "default"  # the terminal's own ink or ground
_REVERSED = "reverse"  # a ground of the terminal's ink
_SIGNS = (Shade.SERVICE, Shade.NOW, Shade.LATE)  # a sign of warning lies on the view's ground, also on a bar
# what Textual's own styles ask of a theme in the terminal's colours
_TERMINALS_OWN = {"ansi-background": "ansi_default", "ansi-foreground": "ansi_default"}
_BOLD_TONES = (Tone.STRONG, Tone.HEAD, Tone.LATE)
_BOLD_SHADES = (Shade.STRONG, Shade.LATE)


@dataclass(frozen=True)
class Palette:
    """The colours of one theme: hex, or names of the terminal's own.

    `cold` and `hot` are the ends of a bar's heat, `cool` and `glow` those of a curve's.
    """

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
    cold: str = _OWN
    hot: str = _OWN
    cool: str = _OWN
    glow: str = _OWN
    rest: str = _OWN
    hold: str = _OWN
    room: str = _OWN
    on_heat: str = _OWN


PALETTES: Mapping[str, Palette] = {
    DARK: Palette(
        ground="#16120f",
        bar="#221d18",
        chosen="#402519",
        ink="#ece4d9",
        quiet="#a0958a",
        head="#dcb886",
        heat="#f08a4b",
        good="#86b07f",
        care="#e6b04a",
        late="#f07a6c",
        cold="#4a2a1b",
        hot="#b5522a",
        cool="#a68f6e",
        glow="#e9763b",
        rest="#75624a",
        hold="#47603f",
        room="#596a78",
        on_heat="#fff6ea",
    ),
    LIGHT: Palette(
        ground="#faf5ec",
        bar="#eee4d4",
        chosen="#f6d9bf",
        ink="#2b231c",
        quiet="#665a4d",
        head="#7a4d12",
        heat="#9c3d0c",
        good="#2f6b33",
        care="#7d5000",
        late="#a8231b",
        cold="#f3d6bb",
        hot="#dd6a2c",
        cool="#857150",
        glow="#b8490f",
        rest="#d8c39d",
        hold="#a9c49e",
        room="#768793",
        on_heat="#2b1608",
    ),
    PLAIN: Palette(
        ground=_OWN,
        bar=_OWN,
        chosen=_REVERSED,
        ink=_OWN,
        quiet=_OWN,
        head=_OWN,
        heat=_OWN,  # red is for what is late alone
        good="green",
        care="magenta",  # yellow cannot be read on white
        late="red",
    ),
}


def themes() -> list[Theme]:
    """The themes as Textual knows them."""
    return [_theme(name, palette) for name, palette in PALETTES.items()]


def _theme(name: str, palette: Palette) -> Theme:
    def named(color: str) -> str:
        return color if color.startswith("#") else f"ansi_{color}"

    return Theme(
        name=name,
        primary=named(palette.heat),
        secondary=named(palette.head),
        accent=named(palette.care),
        foreground=named(palette.ink),
        background=named(palette.ground),
        surface=named(palette.bar),
        panel=named(palette.bar),
        success=named(palette.good),
        warning=named(palette.care),
        error=named(palette.late),
        dark=name != LIGHT,
        ansi=name == PLAIN,
        variables=dict.fromkeys(("quiet", "text-disabled"), named(palette.quiet)) | _TERMINALS_OWN,
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
    bold = tone in _BOLD_TONES or (theme == PLAIN and tone is Tone.HEAT)
    if ground == _REVERSED:
        return Style(color=palette.ink, bgcolor=palette.ground, reverse=True, bold=bold)
    dim = theme == PLAIN and tone is Tone.QUIET
    return Style(color=inks[tone], bgcolor=ground or palette.ground, bold=bold, dim=dim)


@lru_cache(maxsize=256)
def warm_style(theme: str, warmth: float, ground: str = "") -> Style:
    """The ink of a heat curve at one warmth, from 0 to 1."""
    palette = palette_of(theme)
    if theme == PLAIN:
        return tone_style(theme, Tone.PLAIN, ground)
    return Style(color=_between(palette.cool, palette.glow, warmth), bgcolor=ground or palette.bar)


@lru_cache(maxsize=2048)
def dot_style(theme: str, ink: Shade, under: Shade, level: float) -> Style:
    """How one drawn dot of the timeline looks; ink without a shade melts into its ground."""
    if theme == PLAIN:
        return _plain_dot(ink, under)
    palette = palette_of(theme)
    ground = palette.ground if ink in _SIGNS else _ground(palette, under, level)
    on_bar = ground != palette.ground
    inks = {
        Shade.NONE: _between(ground, palette.on_heat, 0.13),
        Shade.PLAIN: palette.ink,
        Shade.QUIET: _between(ground, palette.on_heat, 0.7) if on_bar else palette.quiet,
        Shade.STRONG: palette.on_heat if on_bar else palette.ink,
        Shade.HEAT: palette.heat,
        Shade.WRAPPED: palette.heat,
        Shade.FINISH: palette.heat,
        Shade.REST: palette.cool,
        Shade.HOLD: palette.good,
        Shade.ROOM: palette.room,
        Shade.SERVICE: palette.care,
        Shade.NOW: palette.heat,
        Shade.LATE: palette.late,
    }
    return Style(color=inks[ink], bgcolor=ground, bold=ink in _BOLD_SHADES)


def _plain_dot(ink: Shade, under: Shade) -> Style:
    """A dot in the terminal's colours: no ground is drawn, so a bar is told by its texture alone."""
    palette = PALETTES[PLAIN]
    meant = under if ink is Shade.NONE else ink
    inks = {Shade.HOLD: palette.good, Shade.SERVICE: palette.care, Shade.LATE: palette.late}
    color, dim = inks.get(meant, palette.ink), meant in (Shade.QUIET, Shade.ROOM)
    return Style(color=color, bgcolor=palette.ground, bold=meant in _BOLD_SHADES, dim=dim)


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
