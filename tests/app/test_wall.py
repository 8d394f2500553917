"""The wall: large letters that can be told apart, the few things that matter, at any size of screen."""

from datetime import timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.app.letters import PIXELS, Size, lines_of, stretched, width_of
from board.app.settings import Settings
from board.app.widgets.large import SIZES, body_size, laid
from board.views.text import Cell, Tone
from board.views.text import width_of as columns_of
from board.views.wall import THINGS, Wall, WallLine, wall
from tests.app.boards import NOW, board, later, night_ledger
from tests.app.house_fixture import at
from tests.app.pictures import drawn, screen_text, settled

TOLD_APART = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789.,:;!?'\"-+=/()%&#<>*°→×▲△"


@pytest.mark.parametrize("solid", [False, True], ids=["blocks", "ascii"])
@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size.columns}x{size.rows}")
def test_no_two_letters_look_alike(size: Size, solid: bool) -> None:
    """Every letter, digit and sign has a shape of its own at each size, in ASCII as well."""
    shapes = {c: tuple(row[0].text for row in lines_of([Cell(c)], size, solid=solid)) for c in TOLD_APART}
    assert len(set(shapes.values())) == len(TOLD_APART)
    assert all(any(part.strip() for part in shape) for shape in shapes.values())


def test_accents_are_left_off_and_the_unknown_is_a_question() -> None:
    """A name is read by its base letters; small letters are drawn as capitals."""
    small, capitals, other = (lines_of([Cell(t)], SIZES[0]) for t in ("Café Ñ", "CAFE N", "CAFE ?"))
    assert small == capitals
    assert lines_of([Cell("CAFE 牛")], SIZES[0]) == other


@given(st.text(), st.sampled_from(SIZES), st.booleans())
def test_letters_take_the_room_they_say(text: str, size: Size, solid: bool) -> None:
    """Any text is as tall as its size and as wide as it was said to be, its last gap included."""
    rows = lines_of([Cell(text)], size, solid=solid)
    assert len(rows) == size.rows
    wide = width_of(text, size)
    assert {columns_of(row[0].text) for row in rows} == {wide + size.columns if wide else 0}


@given(st.integers(PIXELS - 2, 60), st.integers(1, 6))
def test_stretching_fills_the_height(total: int, bar: int) -> None:
    """However tall a letter is, its rows of pixels fill it."""
    heights = stretched(total, bar)
    assert sum(heights) == total
    assert min(heights[0], heights[3], heights[6]) >= 1


@given(
    st.lists(st.lists(st.text(min_size=1, max_size=40), min_size=1, max_size=5), max_size=14),
    st.integers(1, 320),
    st.integers(1, 100),
)
def test_the_wall_never_runs_over(texts: list[list[str]], width: int, height: int) -> None:
    """Whatever is to be said, it takes no more rows than there are."""
    lines = tuple(
        WallLine(Cell(name, Tone.STRONG), cells[:1], cells[1:2], cells[2:])
        for name, *rest in texts
        for cells in [tuple(map(Cell, rest))]
    )
    assert len(laid(Wall("05:42", "lunch", "in 5 h 18", lines), width, height)) <= height


@pytest.mark.parametrize(
    ("width", "height", "rows"), [(60, 20, 5), (80, 24, 5), (120, 36, 5), (200, 60, 7), (300, 90, 10)]
)
def test_letters_grow_with_the_screen(width: int, height: int, rows: int) -> None:
    """Letters are five rows tall on the smallest screen and larger where there is room."""
    assert body_size(width, height).rows == rows


def large(wall: Wall, width: int, height: int) -> int:
    """How many things of the wall stand in large letters."""
    size = body_size(width, height)
    rows = laid(wall, width, height)
    lines = [lines_of([line.name], size)[0][0].text.strip() for line in wall.lines]
    return sum(any(top in "".join(cell.text for cell in row) for row in rows) for top in lines)


async def test_the_next_three_things_stand_large_whatever_their_place_is_called(tmp_path: Path) -> None:
    """At 120×36 the next three things and what is late stand in large letters, where and who small."""
    long = Cell("South, the lower shelves at the back by the door")
    steps = [
        WallLine(Cell(f"pull {n} briskets", Tone.STRONG), (Cell("05:41"),), beside=(long, Cell("Odile")))
        for n in (2, 3, 4)
    ]
    late = WallLine(Cell("6 shoulders", Tone.LATE), (Cell("▲"),), (Cell("late 10 min"),), (long,))
    lines = (steps[0], late, *steps[1:])
    seen = Wall("05:40", "lunch", "in 5 h 20", lines)
    assert large(seen, 120, 36) == len(lines)
    words = "\n".join("".join(cell.text for cell in row) for row in laid(seen, 120, 36))
    assert words.count(long.text) == len(lines)


async def test_the_wall_says_what_to_do_next_before_a_service(tmp_path: Path) -> None:
    """Long before lunch stand the clock, the time left, the first steps with their person, what is late."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(200, 60)) as pilot:
            await settled(app, pilot)
            seen = wall(app.facts, app.revised)
    assert (seen.clock, seen.countdown, seen.serving) == ("05:42", "lunch in 5 h 18", False)
    says = [" ".join(cell.text for cell in line.cells) for line in seen.lines]
    assert says[0] == "now pull 6 shoulders South Tomas"
    assert len([one for one in says if "▲" not in one]) == THINGS


async def test_the_wall_turns_to_the_service_when_it_is_near(tmp_path: Path) -> None:
    """From a quarter of an hour before lunch it shows each item with what is ready and left."""
    with night_ledger(tmp_path / "board.db") as ledger:
        for moment, serving in ((at("10:44"), False), (at("10:45"), True), (at("12:30"), True)):
            app = board(ledger, now=moment)
            assert wall(app.facts).serving is serving
        says = [" ".join(cell.text for cell in line.cells) for line in wall(app.facts).lines]
    assert any("ready" in one and "left" in one for one in says)


async def test_nought_shows_the_wall_and_escape_leaves_it(tmp_path: Path) -> None:
    """0 from any view, Esc or a view's number back; its foot says so."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.press("3", "0")
            await settled(app, pilot)
            assert app.view.NAME == "wall"
            assert "Esc back" in screen_text(app)
            await pilot.press("escape")
            assert app.view.NAME == "opening"
            await pilot.press("0", "2")
            assert app.view.NAME == "tomorrow"


async def test_the_wall_in_ascii_is_made_of_hashes(tmp_path: Path) -> None:
    """Without block glyphs a letter is drawn in #."""
    with night_ledger(tmp_path / "board.db") as ledger:
        found = await drawn(board(ledger, settings=Settings(ascii=True)), (120, 36), ["0"])
    assert found.isascii()
    assert found.splitlines()[0].startswith("  ##  ####   #  #  ##")


def test_the_moments_of_these_tests_are_apart() -> None:
    """The fixture's board opens more than five hours before its lunch."""
    assert later(318) == NOW + timedelta(minutes=318) == at("11:00")
