"""Batches on the screen: weighed tick by tick, read by a second person, made, labelled, thrown away."""

from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader
from textual.pilot import Pilot
from textual.widgets import Static

from board.app.dialogs.lists import ListsDialog
from board.app.dialogs.pick import Pick
from board.app.dialogs.weighing import WeighingDialog, grams_typed
from board.app.widgets.panel import Panel
from board.errors import BoardError
from board.ledger import read, write
from board.ledger.open import Ledger
from board.ledger.state import BatchStage, BatchState, Weight
from board.views.weighing import ScaleLine
from tests.app.boards import board, night_ledger, second
from tests.app.curing import NOON, curing_board, curing_ledger
from tests.app.pictures import screen_text, settled
from tests.views.cure_fixture import SERVED

SIZES = [(80, 24), (120, 36)]


@pytest.fixture
def ledger(tmp_path: Path) -> Iterator[Ledger]:
    """Saturday noon: a cure to be made by 13:00."""
    with curing_ledger(tmp_path / "board.db") as opened:
        yield opened


async def press(pilot: Pilot[None], *keys: str) -> None:
    """Press keys, each taken in before the next."""
    for key in keys:
        await pilot.press(key)
        await pilot.pause()


def cure(ledger: Ledger) -> BatchState:
    """The cure as it stands."""
    return read.batch_states(ledger, SERVED)[0]


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
async def test_a_cure_is_weighed_read_by_two_and_made(ledger: Ledger, size: tuple[int, int]) -> None:
    """Enter for each line, a second reader for the cure, and one more Enter for the lot: all by one key."""
    app = curing_board(ledger)
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        await press(pilot, "4", "enter")
        assert "weigh water" in screen_text(app)
        await press(pilot, "enter", "enter", "enter")
        assert "weigh curing salt; a second person reads it" in screen_text(app)
        await press(pilot, "enter")
        assert isinstance(app.screen, Pick)
        assert "Wren" not in screen_text(app).split("Who else read")[1]
        await press(pilot, *"bram", "enter")
        assert "all weighed: 2.882 kg of 2.882 kg" in screen_text(app)
        await press(pilot, "enter")
        assert not isinstance(app.screen, WeighingDialog)
        assert "made, lot 1219-ham-cure-1" in screen_text(app)
    assert (cure(ledger).stage, cure(ledger).lot) == (BatchStage.MADE, "1219-ham-cure-1")
    assert [(one.grams, one.reader) for one in read.weighings(ledger, SERVED)] == [
        (2270.0, None), (408.0, None), (136.0, None), (68.0, "bram"),
    ]  # fmt: skip


async def test_an_enter_too_many_names_no_reader(ledger: Ledger) -> None:
    """Who only presses Enter leaves the cure as read by one person, and the card says so."""
    app = curing_board(ledger)
    async with app.run_test(size=(120, 36)) as pilot:
        await settled(app, pilot)
        await press(pilot, "4", "enter", "space", "space", "space", "enter", "enter", "escape")
        assert "mind: curing salt: a second person has not read the scale" in screen_text(app)
    assert [(one.line, one.reader) for one in read.weighings(ledger, SERVED)] == [(4, None)]


async def test_what_the_scale_shows_otherwise_is_typed(ledger: Ledger) -> None:
    """A number with Enter is what was weighed; the tick says how far off it is."""
    app = curing_board(ledger)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        await press(pilot, "4", "enter", "down", *"420", "enter")
        assert "✓ 420 g, 12 g over, Wren" in screen_text(app)
    assert [one.grams for one in read.weighings(ledger, SERVED)] == [420.0]


async def test_space_skips_and_comes_back(ledger: Ledger) -> None:
    """A skipped line is asked for again after the others; made with a line left says how many."""
    app = curing_board(ledger)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        await press(pilot, "4", "enter", "space")
        assert "weigh salt" in screen_text(app)
        await press(pilot, "enter", "enter", "space")
        assert "2 of 4 not weighed. Made?" in screen_text(app)
        await press(pilot, "up")
        assert "weigh curing salt" in screen_text(app)
        await press(pilot, "escape")
    assert cure(ledger).stage is BatchStage.DUE
    assert [one.line for one in read.weighings(ledger, SERVED)] == [2, 3]


async def test_too_much_cure_is_told_in_words_before_it_is_made(ledger: Ledger) -> None:
    """Twice the curing salt says its dose and that it is not to be used, and stays on the card."""
    app = curing_board(ledger)
    async with app.run_test(size=(120, 36)) as pilot:
        await settled(app, pilot)
        await press(pilot, "4", "enter", "up", "up", "up", "down", "down", "down", *"136", "enter")
        await press(pilot, *"bram", "enter")
        minded = str(app.screen.query_one(".wrong", Static).render())
        assert minded.startswith(
            "curing salt: 136 g is 68 g more than the recipe's 68 g; nitrite then 295 ppm"
        )
        assert minded.endswith("do not use it, weigh it anew")
        await press(pilot, "escape")
        assert "mind: curing salt: 136 g is" in screen_text(app)


async def test_a_recipe_over_its_limit_is_told_on_the_scale(ledger: Ledger) -> None:
    """Whoever weighs a cure that is over its limit is told before the first tick."""
    app = curing_board(ledger, curing_salt_kg=0.6)
    async with app.run_test(size=(120, 36)) as pilot:
        await settled(app, pilot)
        await press(pilot, "4", "enter")
        assert "ham cure: 288.5 ppm of sodium nitrite in ham is over the limit of" in screen_text(app)


async def test_two_people_weigh_one_batch(ledger: Ledger) -> None:
    """What another board ticks shows in the open dialog, and is not asked for again."""
    app = curing_board(ledger)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        await press(pilot, "4", "enter")
        with second(ledger.path) as other:
            salt = Weight(2, "salt", 408.0, 408.0)
            write.weigh(other, "b-cure", salt, who="bram", at=NOON, noted_at=NOON)
        app.keep_up()
        await pilot.pause()
        assert "✓ Bram" in screen_text(app)
        assert "weigh water" in screen_text(app)
        await press(pilot, "enter")
        assert "weigh brown sugar" in screen_text(app)


async def test_another_lot_may_be_typed(ledger: Ledger) -> None:
    """The lot that is offered stands ready to be typed over."""
    app = curing_board(ledger)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        await press(pilot, "4", "enter", "space", "space", "space", "space", *"L7", "enter")
    assert cure(ledger).lot == "L7"


async def test_ticks_and_making_by_mouse(ledger: Ledger) -> None:
    """The hint's words tick and skip, and the foot's words do what their keys do."""
    app = curing_board(ledger)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        await press(pilot, "4")
        await pilot.click("#foot", offset=(2, 0))
        await pilot.pause()
        assert isinstance(app.screen, WeighingDialog)
        await pilot.click(".hint", offset=(2, 0))
        await pilot.pause()
        assert [one.line for one in read.weighings(ledger, SERVED)] == [1]
        assert "weigh salt" in screen_text(app)


async def test_a_batch_that_is_waited_for_is_not_used_up_by_one_key(ledger: Ledger) -> None:
    """Enter once too often asks first, with what waits; only the answer marks it used."""
    app = curing_board(ledger)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        await press(pilot, "4", "enter", "space", "space", "space", "space", "enter")
        await press(pilot, "enter")
        assert "waits: 6 hams for lunch" in screen_text(app)
        await press(pilot, "enter")
        assert cure(ledger).stage is BatchStage.MADE
        await press(pilot, "enter", "down", "enter")
    assert cure(ledger).stage is BatchStage.USED


async def test_opening_makes_a_batch_and_uses_none_up(ledger: Ledger) -> None:
    """Enter on a batch in Opening makes it; once more says what waits for it."""
    app = curing_board(ledger)
    async with app.run_test(size=(120, 36)) as pilot:
        await settled(app, pilot)
        app.view.panel("batches").focus()
        await press(pilot, "enter")
        assert cure(ledger).lot == "1219-ham-cure-1"
        await press(pilot, "enter")
        assert "waits: 6 hams" in screen_text(app)
    assert cure(ledger).stage is BatchStage.MADE


async def test_discarding_asks_why(ledger: Ledger) -> None:
    """x asks for the reason; the list tells it, and what has none now."""
    app = curing_board(ledger)
    async with app.run_test(size=(120, 36)) as pilot:
        await settled(app, pilot)
        await press(pilot, "4", "x", *"split", "enter")
        assert "discarded: split" in screen_text(app)
        assert "6 hams for lunch on Tuesday 22 December have none: plan that day again" in screen_text(app)
    assert cure(ledger).discarded_why == "split"


async def test_ticks_are_taken_back_one_by_one(ledger: Ledger) -> None:
    """u after weighing takes back the last tick, and only that."""
    app = curing_board(ledger)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        await press(pilot, "4", "enter", "enter", "enter", "escape", "u")
    assert [one.line for one in read.weighings(ledger, SERVED)] == [1]


async def test_a_batch_not_made_has_no_temperature(ledger: Ledger) -> None:
    """t on it says so: the number typed would else be of another place than the one looked at."""
    app = curing_board(ledger)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        before = len(read.entries(ledger))
        await press(pilot, "4", "t")
        assert "this batch is not made yet" in screen_text(app)
        await press(pilot, "4", "0")
    assert len(read.entries(ledger)) == before


async def test_a_brines_temperature_is_read_under_its_lot(ledger: Ledger) -> None:
    """t on a batch that is made has it chosen already; a cold reading makes it ready."""
    app = curing_board(ledger)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        await press(pilot, "4", "enter", "space", "space", "space", "space", "enter", "t", "4", "enter")
        assert "ready: read 4° at 12:00" in screen_text(app)
    assert read.readings(ledger, place="1219-ham-cure-1")[0].temperature_c == 4.0


async def test_the_load_takes_from_its_lot(ledger: Ledger) -> None:
    """Marking the injection records which lot went into the hams, and the card tells it."""
    app = curing_board(ledger)
    async with app.run_test(size=(120, 36)) as pilot:
        await settled(app, pilot)
        await press(pilot, "4", "enter", "space", "space", "space", "space", "enter")
        told = app.session.facts()
        assert "t-inject" in {step.id for plan in told.plans.values() for step in plan.steps}
        await press(pilot, "1", "down", "enter")
        await press(pilot, "4")
        assert "all in the meat" in screen_text(app)
        assert "6 hams took 2.9 kg" in screen_text(app)
    assert [(use.load, use.lot, use.kg) for use in read.uses(ledger, SERVED)] == [
        ("tue-ham", "1219-ham-cure-1", 2.88)
    ]


async def test_label_is_written_beside_the_ledger(ledger: Ledger) -> None:
    """p writes the label and says where."""
    app = curing_board(ledger)
    async with app.run_test(size=(120, 36)) as pilot:
        await settled(app, pilot)
        await press(pilot, "4", "p")
        assert "1 label written to" in screen_text(app)
    pdf = ledger.path.with_name("labels-b-cure.pdf").read_bytes()
    assert "ham cure" in PdfReader(BytesIO(pdf)).pages[0].extract_text()


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
async def test_lists_over_more_days(ledger: Ledger, size: tuple[int, int]) -> None:
    """l shows today's lists; + adds a day, arrows move the span."""
    app = curing_board(ledger)
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        await press(pilot, "4", "l")
        assert "curing salt" in screen_text(app)
        assert "18:00  6 hams" in screen_text(app)
        await press(pilot, "plus", "plus", "plus")
        assert "Sat 19 Dec to Tue 22 Dec" in screen_text(app)
        assert "oak" in screen_text(app)
        assert "curing salt" in str(app.screen.query_one("#have", Panel).table)
        await press(pilot, "right")
        assert "curing salt" not in str(app.screen.query_one("#have", Panel).table)
        await press(pilot, "minus", "left", "escape")
        assert not isinstance(app.screen, ListsDialog)


async def test_list_shows_one_stage_after_another(tmp_path: Path) -> None:
    """f goes through what is to make, made, gone, and back to all."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(80, 24)) as pilot:
            await settled(app, pilot)
            await press(pilot, "4", "f")
            assert "pepper rub" not in screen_text(app)
            await press(pilot, "f")
            assert "cider glaze" not in screen_text(app)
            assert "pepper rub" in screen_text(app)
            await press(pilot, "f")
            assert "No batch is used or discarded" in screen_text(app)
            await press(pilot, "f")
            assert "cider glaze" in screen_text(app)


@pytest.mark.parametrize(
    ("typed", "grams"), [("9.04", 9040.0), ("9,1", 9100.0), ("8500 g", 8500.0), ("20 lb", 9071.847)]
)
def test_a_bare_number_is_in_the_unit_of_its_line(typed: str, grams: float) -> None:
    """Where the card asks for kilograms a number is kilograms; another unit is written out."""
    assert grams_typed(typed, ScaleLine(1, "water", "9.04 kg", "", 9040.0, is_cure=False)) == grams


@pytest.mark.parametrize("typed", ["9040", "0.09", "salt", "-1", "9 L"])
def test_what_may_be_another_unit_is_asked_for_again(typed: str) -> None:
    """A bare number far from what was asked, and what is no mass, are refused with what to write."""
    with pytest.raises(BoardError, match="write"):
        grams_typed(typed, ScaleLine(1, "water", "9.04 kg", "", 9040.0, is_cure=False))


async def test_what_was_weighed_stands_ticked(ledger: Ledger) -> None:
    """An amount typed otherwise than told is what the ticked line shows."""
    app = curing_board(ledger)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        await press(pilot, "4", "enter", "down", *"420", "enter")
        rows = app.screen.query_one("#lines", Panel).table.rows
        assert [row.cells[1].text for row in rows[:2]] == ["2.27 kg", "420 g"]


async def test_a_page_down_reads_on_in_the_card(ledger: Ledger) -> None:
    """At 80 by 24 a long card is read on by PgDn and back by PgUp, as it says; the chosen batch stays."""
    app = curing_board(ledger)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        await press(pilot, "4")
        made, listed = app.view.panel("made"), app.view.panel("list")
        made.styles.height = 5
        await pilot.pause()
        first, chosen = made.render_line(1).text, listed.chosen
        assert "PgDn reads on" in made.render_line(4).text
        await press(pilot, "pagedown")
        assert made.render_line(1).text != first
        assert listed.chosen == chosen
        await press(pilot, "pageup")
        assert made.render_line(1).text == first
