"""The keys of three people's jobs: the opening crew, the pitmaster, and whoever keeps service true."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from board.ledger import read
from board.ledger.open import Ledger
from board.ledger.state import BatchStage, LoadStage
from tests.app.boards import board, later, night_ledger
from tests.app.house_fixture import DAY, at, sunday
from tests.app.pictures import screen_text, settled

SIZE = (100, 30)


@pytest.fixture
def ledger(tmp_path: Path) -> Iterator[Ledger]:
    """The ledger after the night."""
    with night_ledger(tmp_path / "board.db") as opened:
        yield opened


def stage(ledger: Ledger, load: str) -> LoadStage:
    """Where a load of Saturday stands."""
    return next(state.stage for state in read.load_states(ledger, DAY) if state.id == load)


async def press(pilot: Pilot[None], *keys: str) -> None:
    """Press keys, and wait for what they lead to."""
    await pilot.press(*keys)
    await pilot.pause()


async def test_opening_crew_marks_the_next_step_with_one_key(ledger: Ledger) -> None:
    """Enter on the first line of Do next marks the pull done, and says what was recorded."""
    app = board(ledger)
    async with app.run_test(size=SIZE) as pilot:
        await settled(app, pilot)
        await press(pilot, "enter")
        assert stage(ledger, "sat-shoulder") is LoadStage.PULLED
        assert "6 shoulders came off South" in screen_text(app)
        assert read.entries(ledger)[-1].who == "tomas"


async def test_opening_crew_takes_it_back_with_one_key(ledger: Ledger) -> None:
    """u takes the last mark back, says which, and the record keeps both."""
    app = board(ledger)
    async with app.run_test(size=SIZE) as pilot:
        await settled(app, pilot)
        await press(pilot, "enter", "u")
        assert stage(ledger, "sat-shoulder") is LoadStage.ON
        assert "taken back: 6 shoulders came off South" in screen_text(app)
        assert [entry.kind for entry in read.entries(ledger)][-2:] == ["load", "undo"]


async def test_opening_crew_enters_a_temperature_with_four_keys(ledger: Ledger) -> None:
    """t, two digits and Enter record the core of the load under the cursor, in the house's degrees."""
    app = board(ledger)
    async with app.run_test(size=SIZE) as pilot:
        await settled(app, pilot)
        await press(pilot, "t", "9", "3", "enter")
        reading = read.last_reading(ledger, load="sat-shoulder")
        assert reading is not None
        assert reading.temperature_c == pytest.approx(93)


async def test_temperature_of_another_place_is_an_arrow_away(ledger: Ledger) -> None:
    """An arrow in the dialog chooses the next place; a written unit is understood."""
    app = board(ledger)
    async with app.run_test(size=SIZE) as pilot:
        await settled(app, pilot)
        await press(pilot, "t", "down", "down", *"238 F", "enter")
        reading = read.last_reading(ledger, place="north")
        assert reading is not None
        assert reading.temperature_c == pytest.approx(114.4, abs=0.1)


async def test_what_is_no_temperature_is_refused_in_a_sentence(ledger: Ledger) -> None:
    """A word for a temperature is refused where it was typed, and nothing is written; digits replace it."""
    before = read.data_version(ledger)
    app = board(ledger)
    async with app.run_test(size=SIZE) as pilot:
        await settled(app, pilot)
        await press(pilot, "t", *"hot", "enter")
        assert "hot" in screen_text(app)
        assert read.data_version(ledger) == before
        await press(pilot, *"93")
        assert app.screen.query_one(Input).value == "93"
        await press(pilot, *"x", "enter", "end", "backspace")
        assert app.screen.query_one(Input).value == "93"
        await press(pilot, "escape")
    assert read.data_version(ledger) == before


async def test_opening_crew_signs_the_handover(ledger: Ledger) -> None:
    """h, some words and Enter sign the handover under the name at the keys."""
    app = board(ledger)
    async with app.run_test(size=SIZE) as pilot:
        await settled(app, pilot)
        await press(pilot, "h", *"All well", "enter")
        signed = read.last_handover(ledger)
        assert signed is not None
        assert (signed.who, signed.data["text"]) == ("tomas", "All well")
        assert "handover signed by Tomas" in screen_text(app)


async def test_somebody_else_steps_up(ledger: Ledger) -> None:
    """w and a few letters change who is at the keys, and the next entry carries that name."""
    app = board(ledger)
    async with app.run_test(size=SIZE) as pilot:
        await settled(app, pilot)
        await press(pilot, "w", *"wre", "enter", "n", *"bin is full", "enter")
        assert read.entries(ledger)[-1].who == "wren"


async def test_pitmaster_edits_a_promise_and_plans(ledger: Ledger) -> None:
    """From Tomorrow: p, Enter, a number, Enter change a promise; g plans; c and a reason commit."""
    app = board(ledger, who="odile")
    async with app.run_test(size=SIZE) as pilot:
        await settled(app, pilot)
        await press(pilot, "2", "p", "enter", "3", "0", "enter")
        assert read.promises(ledger, sunday().day) == {("lunch", "half-bird"): 30}
        await press(pilot, "g")
        while app.planning.word(sunday().day):
            await pilot.pause(0.02)
        await pilot.pause()
        assert "draft, not committed" in screen_text(app)
        await press(pilot, "c", *" and a wedding", "enter")
        versions = read.plan_versions(ledger, sunday().day)
        assert [v.version for v in versions] == [1, 2]
        assert versions[-1].who == "odile"
        assert "committed" in screen_text(app)


async def test_pitmaster_reads_why_a_load_is_loaded_when_it_is(ledger: Ledger) -> None:
    """Arrows on the timeline choose a load, whose chain and account stand below."""
    app = board(ledger, who="odile")
    async with app.run_test(size=(120, 36)) as pilot:
        await settled(app, pilot)
        await press(pilot, "2", "left_square_bracket")
        assert "Why 19:12" in screen_text(app)
        await press(pilot, "down")
        assert "6 shoulders on South" in screen_text(app)


async def test_commit_without_a_draft_writes_nothing(ledger: Ledger) -> None:
    """c without a draft says how to make one."""
    app = board(ledger)
    async with app.run_test(size=SIZE) as pilot:
        await settled(app, pilot)
        await press(pilot, "2", "c")
        assert "g plans this day" in screen_text(app)
    assert len(read.plan_versions(ledger, sunday().day)) == 1


async def test_service_sells_and_marks_sold_out(ledger: Ledger) -> None:
    """In service a number and Enter sell, Space sells one, o marks an item sold out, u takes it back."""
    app = board(ledger, now=at("11:30"), who="bram")
    async with app.run_test(size=SIZE) as pilot:
        await settled(app, pilot)
        await press(pilot, "3", "s", "1", "2", "enter", "space")
        assert read.sold(ledger, DAY)["lunch", "brisket-plate"].sold == 13
        await press(pilot, "o")
        assert read.sold(ledger, DAY)["lunch", "brisket-plate"].sold_out_at is not None
        assert "sold out" in screen_text(app)
        await press(pilot, "u")
        assert read.sold(ledger, DAY)["lunch", "brisket-plate"].sold_out_at is None


async def test_service_marks_the_next_step_of_an_item(ledger: Ledger) -> None:
    """Enter on an item sees its load, and Enter there marks its next step."""
    app = board(ledger, now=later(80), who="tomas")
    async with app.run_test(size=SIZE) as pilot:
        await settled(app, pilot)
        await press(pilot, "3", "enter", "enter")
        assert stage(ledger, "sat-brisket") is LoadStage.PULLED


async def test_batch_is_weighed_and_made_with_a_lot_number(ledger: Ledger) -> None:
    """Enter on a batch that is due opens the scale; an Enter a line and one more make it, under a lot."""
    app = board(ledger, who="wren")
    async with app.run_test(size=SIZE) as pilot:
        await settled(app, pilot)
        await press(pilot, "4")
        assert "salt" in screen_text(app)
        await press(pilot, "enter", "enter", "enter", "enter")
        made = next(batch for batch in read.batch_states(ledger, DAY) if batch.id == "b-glaze")
        assert made.stage is BatchStage.MADE
        assert made.lot == "1219-cider-glaze-1"
        assert [(one.ingredient, one.who) for one in read.weighings(ledger, DAY)] == [
            ("water", "wren"),
            ("salt", "wren"),
        ]


async def test_record_shows_kinds_in_turn(ledger: Ledger) -> None:
    """k narrows the record to temperatures, then to what it proves, at last to notes and handovers."""
    app = board(ledger)
    async with app.run_test(size=SIZE) as pilot:
        await settled(app, pilot)
        await press(pilot, "5", "k")
        assert "read 98°" in screen_text(app)
        assert "went on" not in screen_text(app).split("read 98°")[0].replace("Hams went on late", "")
        await press(pilot, *"k" * 7)
        assert "South ran hot after three" in screen_text(app)


async def test_find_goes_to_what_was_found(ledger: Ledger) -> None:
    """/ and some letters find a load, and Enter shows its page."""
    app = board(ledger)
    async with app.run_test(size=SIZE) as pilot:
        await settled(app, pilot)
        await press(pilot, "slash", *"rib", "enter")
        await pilot.pause()
        assert "35 rib racks  South" in screen_text(app)
