"""What the views really draw can be read in both of our themes, and by those who see no colour."""

from pathlib import Path

import pytest
from rich.segment import Segment

from board.app.app import BoardApp
from board.app.theme import DARK, LIGHT, palette_of
from tests.app.boards import board, night_ledger
from tests.app.pictures import VIEWS, in_theme, pressed
from tests.app.test_theme import GRAPHIC, TEXT, contrast

TEXTURE = set("░▒▓=-")  # of a bar, whose ground and label tell what it is
DRAWN = set("▁▂▃▄▅▆▇█▀─│┊╎╱├┤·:●○▲▼▶◆◇") | set(map(chr, range(0x2800, 0x2900)))
SAID = ("▲", "▼", "late", "short", "overdue", "sold out", "too long", "below", "not ", "gone", "off")
ALL = {**VIEWS, "temperature": "t", "remedies": "r", "help": "question_mark", "find": "slash"}


def segments(app: BoardApp) -> list[tuple[str, list[Segment]]]:
    """Each row of the screen as text and as its pieces."""
    strips = app.screen._compositor.render_strips()
    return [
        (strip.text, [piece for piece in strip if piece.style and piece.text.strip()]) for strip in strips
    ]


@pytest.mark.parametrize("size", [(80, 24), (200, 60)], ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("view", VIEWS)
async def test_all_that_is_drawn_can_be_read(view: str, size: tuple[int, int], tmp_path: Path) -> None:
    """Every text on every view has the contrast that WCAG 2.1 asks, every line and dot that of graphics."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=size) as pilot:
            await pressed(app, pilot, VIEWS[view].split(","))
            for theme in (DARK, LIGHT):
                await in_theme(app, pilot, theme)
                for row, pieces in segments(app):
                    for piece in pieces:
                        glyphs = set(piece.text) - {" "} - TEXTURE
                        least = GRAPHIC if glyphs <= DRAWN else TEXT
                        if glyphs and piece.style:
                            assert contrast(piece.style) >= least, (theme, piece, row)


@pytest.mark.parametrize("view", ALL)
async def test_nothing_is_told_by_red_alone(view: str, tmp_path: Path) -> None:
    """Where something stands in red, its row says so in a word or a sign as well."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(120, 36)) as pilot:
            await pressed(app, pilot, ALL[view].split(","))
            rows = [
                (row, piece)
                for row, pieces in segments(app)
                for piece in pieces
                if piece.style and piece.style.color and piece.style.color.name == palette_of(DARK).late
            ]
    assert [(row, piece) for row, piece in rows if not any(word in row for word in SAID)] == []
