"""Themes: what is drawn can be read, and nothing is told by colour alone."""

from itertools import product
from pathlib import Path

import pytest
from rich.color import Color
from rich.style import Style

from board.app.app import BoardApp
from board.app.settings import Settings
from board.app.theme import DARK, LIGHT, PLAIN, THEMES, dot_style, palette_of, tone_style, warm_style
from board.views.canvas import Shade
from board.views.text import Tone
from tests.app.boards import board, night_ledger
from tests.app.pictures import settled

# WCAG 2.1, success criterion 1.4.3 (text) and 1.4.11 (what is drawn)
TEXT, GRAPHIC = 4.5, 3.0
BARS = (Shade.HEAT, Shade.WRAPPED, Shade.FINISH, Shade.REST, Shade.HOLD)
WARMTHS = [step / 10 for step in range(11)]


def luminance(color: Color) -> float:
    """Relative luminance as WCAG 2.1 defines it, of an sRGB colour."""

    def linear(channel: int) -> float:
        share = channel / 255
        return share / 12.92 if share <= 0.03928 else ((share + 0.055) / 1.055) ** 2.4

    red, green, blue = (linear(channel) for channel in color.get_truecolor())
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(style: Style) -> float:
    """Contrast ratio as WCAG 2.1 defines it, of a style's ink on its ground: 1 to 21."""
    assert style.color is not None
    assert style.bgcolor is not None
    dark, light = sorted((luminance(style.color), luminance(style.bgcolor)))
    return (light + 0.05) / (dark + 0.05)


def test_contrast_is_that_of_the_standard() -> None:
    """Black on white is 21 to 1; the grey #767676 is the lightest that passes on white (WCAG 2.1, 1.4.3)."""
    assert contrast(Style(color="#000000", bgcolor="#ffffff")) == pytest.approx(21.0)
    assert contrast(Style(color="#767676", bgcolor="#ffffff")) == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("theme", [DARK, LIGHT])
def test_every_tone_can_be_read_on_every_ground(theme: str) -> None:
    """Text has the contrast that WCAG asks, on the view, on a raised line, and on the chosen line."""
    palette = palette_of(theme)
    for tone, ground in product(Tone, (palette.ground, palette.bar, palette.chosen)):
        assert contrast(tone_style(theme, tone, ground)) >= TEXT, (tone, ground)
    for warmth, ground in product(WARMTHS, (palette.ground, palette.bar, palette.chosen)):
        assert contrast(warm_style(theme, warmth, ground)) >= GRAPHIC, (warmth, ground)


@pytest.mark.parametrize("theme", [DARK, LIGHT])
def test_what_is_drawn_can_be_seen(theme: str) -> None:
    """Labels and signs on a bar have the contrast of text, lines and dots that of graphics."""
    for ink in (Shade.STRONG, Shade.LATE, Shade.SERVICE, Shade.NOW):
        for bar, level in product((Shade.NONE, *BARS), WARMTHS):
            assert contrast(dot_style(theme, ink, bar, level)) >= TEXT, (ink, bar, level)
    for bar, level in product(BARS, WARMTHS):
        assert contrast(dot_style(theme, Shade.QUIET, bar, level)) >= GRAPHIC, (bar, level)
    for ink in set(Shade) - {Shade.NONE}:
        assert contrast(dot_style(theme, ink, Shade.NONE, 0.0)) >= GRAPHIC, ink


def test_the_plain_theme_has_only_the_terminals_colours() -> None:
    """The third theme reads on any terminal: its own ink and ground, and its own few colours."""
    styles = [tone_style(PLAIN, tone, ground) for tone in Tone for ground in ("", palette_of(PLAIN).chosen)]
    styles += [dot_style(PLAIN, ink, under, 0.5) for ink in Shade for under in Shade]
    for style in styles:
        assert style.color is not None
        assert style.color.is_default or style.color.is_system_defined
        assert style.bgcolor is not None
        assert style.bgcolor.is_default


def styles_of(app: BoardApp) -> list[Style]:
    """The style of everything on the screen."""
    strips = app.screen._compositor.render_strips()
    return [segment.style for strip in strips for segment in strip if segment.style and segment.text.strip()]


async def test_f2_goes_round_the_themes(tmp_path: Path) -> None:
    """Dark, light, the terminal's own, and dark again; each says its name."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(80, 24)) as pilot:
            await settled(app, pilot)
            for theme in (*THEMES[1:], THEMES[0]):
                await pilot.press("f2")
                await settled(app, pilot)
                assert app.theme == theme
                grounds = {style.bgcolor for style in styles_of(app)}
                assert Color.parse(palette_of(theme).ground).name in {c.name for c in grounds if c}


@pytest.mark.parametrize("keys", ["1", "2", "t", "question_mark"])
async def test_no_color_means_none(keys: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where NO_COLOR is set nothing has a colour; bold and reversed remain, also after F2."""
    monkeypatch.setenv("NO_COLOR", "1")
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger, settings=Settings(theme=LIGHT))
        async with app.run_test(size=(80, 24)) as pilot:
            await settled(app, pilot)
            await pilot.press("f2", keys)
            await settled(app, pilot)
            styles = styles_of(app)
    assert all(style.color is None and style.bgcolor is None for style in styles)
    assert any(style.bold for style in styles)
    assert keys == "2" or any(style.reverse for style in styles)  # the line the cursor is on


async def test_without_motion_nothing_moves(tmp_path: Path) -> None:
    """The setting stops every animation."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger, settings=Settings(motion=False))
        async with app.run_test(size=(80, 24)) as pilot:
            await settled(app, pilot)
            assert app.animation_level == "none"
