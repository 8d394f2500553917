"""The list of what would help a load: opened with one key, done with another, taken back with a third."""

from pathlib import Path
from threading import Event

import pytest
from textual.pilot import Pilot

from board.app import acting
from board.app.acting import Told
from board.app.app import BoardApp
from board.app.dialogs.remedies import RemediesDialog
from board.errors import LedgerError
from board.ledger import read
from board.ledger.state import LoadStage
from board.planning.plan import Plan, PlannedLoad
from board.planning.remedies.remedy import Advice
from board.sheets.remedies_sheet import remedies_document, remedies_sheet
from board.views.facts import Facts, all_steps, load_of
from board.views.progress import Revised
from board.views.reference import ref
from board.views.remedies import WORD
from tests.app.advice import helped
from tests.app.boards import NOW, board, night_ledger
from tests.app.house_fixture import DAY, house
from tests.app.pictures import screen_text, settled
from tests.app.test_pictures import compare

WIDE, SMALL = (120, 36), (80, 24)


async def open_list(app: BoardApp, pilot: Pilot[None], *keys: str) -> RemediesDialog:
    """Go to the load and open its remedies."""
    await settled(app, pilot)
    for key in (*keys, "r"):
        await pilot.press(key)
    await settled(app, pilot)
    assert isinstance(app.screen, RemediesDialog)
    return app.screen


@pytest.mark.parametrize("size", [SMALL, WIDE], ids=["80x24", "120x36"])
async def test_the_list_looks_as_kept(size: tuple[int, int], tmp_path: Path) -> None:
    """Each remedy has its time, chance and cost, doing nothing comes last, and below what is not offered."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=size) as pilot:
            await open_list(app, pilot, "tab")
            compare(f"dialog-remedies-{size[0]}x{size[1]}.txt", screen_text(app), size)


async def test_the_best_remedy_stands_under_a_load_in_trouble(tmp_path: Path) -> None:
    """Opening and Service say the best remedy in a line, with its time and its chance."""
    says = "raise Little to 121°: likely 09:58, 9 times in 10 in time"
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=WIDE) as pilot:
            await settled(app, pilot)
            assert says in screen_text(app)
            await pilot.press("3")
            await pilot.pause()
            assert says in screen_text(app)


async def test_enter_raises_the_pit_and_undo_takes_it_back(tmp_path: Path) -> None:
    """The first remedy becomes a setpoint in the record, said back; u returns to the one before."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=SMALL) as pilot:
            await open_list(app, pilot, "tab")
            await pilot.press("enter")
            await settled(app, pilot)
            assert read.pit_states(ledger)["little"].setpoint_c == 121.0
            assert "Little set to 121°" in screen_text(app)
            await pilot.press("u")
            await settled(app, pilot)
            assert read.pit_states(ledger)["little"].setpoint_c == 107.0


async def test_the_board_says_what_u_would_take_back(tmp_path: Path) -> None:
    """One entry is taken back by u, two need it twice, and a step marked before offers nothing to undo."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=WIDE) as pilot:
            await settled(app, pilot)
            app.record(lambda: Told("the pit was set and the ham wrapped", 2))
            assert app.told is not None
            assert app.told.text.endswith("; u takes back the last, u again the rest")
            plan, step = next(pair for pair in all_steps(app.facts) if pair[1].what == "pull")
            key = ref(plan.day, step.id)
            app.record(lambda: acting.mark_step(app.session, key))
            assert app.told.text.endswith("; u takes it back")
            app.record(lambda: acting.mark_step(app.session, key))
            assert app.told.text.startswith("already recorded")
            assert not app.told.text.endswith("back")
            await pilot.press("u")
            assert app.told.text.startswith("taken back")
            assert "; u" not in app.told.text


async def test_enter_moves_a_load_and_the_board_shows_it_there(tmp_path: Path) -> None:
    """The second remedy carries the hams to South; they stand there in the list of loads."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=SMALL) as pilot:
            await open_list(app, pilot, "tab")
            await pilot.press("down", "enter")
            await settled(app, pilot)
            ham = next(one for one in read.load_states(ledger, DAY) if one.id == "sat-ham")
            assert (ham.pit, ham.moved_from, ham.stage) == ("south", "little", LoadStage.ON)
            assert "4 hams moved from Little to South" in screen_text(app)
            row = next(line for line in screen_text(app).splitlines() if line.startswith(" 4 hams"))
            assert "South" in row


async def test_a_change_of_plan_is_kept_as_a_note(tmp_path: Path) -> None:
    """To pull cooler is no mark of its own: what was decided is written down."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=SMALL) as pilot:
            await open_list(app, pilot, "tab")
            await pilot.press("down", "down", "enter")
            await settled(app, pilot)
            last = read.entries(ledger, since_seq=0)[-1]
            assert (last.kind, last.data["text"]) == ("note", "4 hams: pull at 63°")


@pytest.mark.parametrize(
    "keys", [("down", "down", "down", "down", "enter"), ("escape",)], ids=["last", "esc"]
)
async def test_leaving_it_as_it_is_records_nothing(keys: tuple[str, ...], tmp_path: Path) -> None:
    """The last line and Esc both leave the record alone."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=SMALL) as pilot:
            await open_list(app, pilot, "tab")
            before = len(read.entries(ledger, since_seq=0))
            await pilot.press(*keys)
            await settled(app, pilot)
            assert not isinstance(app.screen, RemediesDialog)
            assert len(read.entries(ledger, since_seq=0)) == before


async def test_a_load_in_time_may_be_asked_about_too(tmp_path: Path) -> None:
    """For a load that is early the list says where it can wait; it is worked out when asked for."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=SMALL) as pilot:
            await open_list(app, pilot, "tab", "down")
            text = screen_text(app)
            assert "hold in hold" in text
            assert "waits 2 h 40 of at most 4 h" in text


async def test_remedies_wait_until_the_readings_are_counted(tmp_path: Path) -> None:
    """Asked for before the readings are counted, nothing is told from the plan's times alone."""
    let_go, asked = Event(), []
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        counted, known = app.session.reviser, app.session.helper
        app.session.reviser = lambda facts: counted(facts) if let_go.wait(10) else {}

        def help_with(facts: Facts, plan: Plan, load: PlannedLoad, revised: Revised) -> Advice | None:
            asked.append(dict(revised))
            return known(facts, plan, load, revised)

        app.session.helper = help_with
        async with app.run_test(size=SMALL) as pilot:
            await pilot.pause()
            await pilot.press("tab", "down", "r")
            await pilot.pause()
            assert "Working out what helps" in screen_text(app)
            assert asked == []
            let_go.set()
            await settled(app, pilot)
            assert "Would help" in screen_text(app)
            assert all("sat-brisket" in revised for revised in asked)


async def test_a_load_that_cannot_be_estimated_says_so(tmp_path: Path) -> None:
    """Where the sums have no answer the list says so instead of waiting."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=SMALL) as pilot:
            await open_list(app, pilot, "tab", "down", "down")
            assert "cannot be estimated" in screen_text(app)


@pytest.mark.parametrize("keys", [("tab", "tab"), ("3", "down")], ids=["opening", "service"])
async def test_r_on_another_line_asks_about_the_first_load_in_trouble(
    keys: tuple[str, ...], tmp_path: Path
) -> None:
    """Who has only just walked in presses r, and the load that is late is the one meant."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=SMALL) as pilot:
            dialog = await open_list(app, pilot, *keys)
            assert dialog.load == f"{DAY.isoformat()}/sat-ham"


async def test_what_is_no_load_on_a_pit_has_no_remedies(tmp_path: Path) -> None:
    """On an item whose loads are not on yet, r says what remedies are for."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=SMALL) as pilot:
            await settled(app, pilot)
            await pilot.press("2", "v")
            await settled(app, pilot)
            await pilot.press("r")
            await settled(app, pilot)
            assert not isinstance(app.screen, RemediesDialog)
            assert "remedies are for what is cooking" in screen_text(app)


async def test_the_list_never_calls_an_estimate_safe(tmp_path: Path) -> None:
    """The word that estimates prove nothing stands with every list."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=SMALL) as pilot:
            await open_list(app, pilot, "tab")
            assert WORD in screen_text(app)


async def test_advice_is_asked_anew_when_a_pit_was_set(tmp_path: Path) -> None:
    """What the advice depends on is asked again after a mark, and not while nothing changes."""
    asked = []
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        known = app.session.adviser
        app.session.adviser = lambda facts, revised: asked.append(facts.now) or known(facts, revised)  # type: ignore[func-returns-value]
        async with app.run_test(size=SMALL) as pilot:
            await settled(app, pilot)
            app.renew()
            await settled(app, pilot)
            assert len(asked) == 1
            await open_list(app, pilot, "tab")
            await pilot.press("enter")
            await settled(app, pilot)
            assert len(asked) == 2


def test_the_remedies_of_all_in_trouble_print_as_a_page(tmp_path: Path) -> None:
    """`board remedies` lists what the board lists, for each load in trouble, no wider than asked."""
    with night_ledger(tmp_path / "board.db") as ledger:
        text = remedies_sheet(ledger, house(), None, NOW, width=72, asking=asked)
    assert "4 hams on Little, needed 11:00" in text
    assert "raise Little to 121°" in text
    assert WORD in text
    assert all(len(line) <= 72 for line in text.splitlines())


def test_the_remedies_are_a_document_for_other_programs(tmp_path: Path) -> None:
    """Times carry the house's offset, temperatures are in °C, chances between 0 and 1."""
    with night_ledger(tmp_path / "board.db") as ledger:
        found = remedies_document(ledger, house(), "sat-ham", NOW, asking=asked)
    [ham] = found["loads"]
    assert (ham["load"], ham["needed_at"]) == ("sat-ham", "2026-12-19T11:00:00-06:00")
    first = ham["remedies"][0]
    assert (first["kind"], first["pit"], first["setpoint_c"]) == ("raise", "little", 121.0)
    assert first["ready_at"]["p50"] == "2026-12-19T09:58:00-06:00"
    assert ham["left_out"][0] == {"kind": "wrap", "why": "never wrapped", "about": "ham-boneless"}


def test_a_load_on_no_pit_is_refused_in_one_line(tmp_path: Path) -> None:
    """The answer names the loads that are on a pit."""
    with (
        night_ledger(tmp_path / "board.db") as ledger,
        pytest.raises(LedgerError, match=r"sat-ribs is on no pit now; .*sat-ham"),
    ):
        remedies_sheet(ledger, house(), "sat-ribs", NOW)


def asked(facts: Facts, load: str | None) -> list[tuple[Plan, PlannedLoad, Advice | None]]:
    """The stand-in's advice on the hams."""
    found = load_of(facts, f"{DAY}/sat-ham")
    assert found is not None
    return [(*found, helped(facts, *found, {}))]


async def test_remedies_that_come_while_the_list_is_only_being_made_are_shown(tmp_path: Path) -> None:
    """What was worked out for the views is known before a slow machine has made the list."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=SMALL) as pilot:
            await open_list(app, pilot, "r")
            await pilot.press("escape")
            await settled(app, pilot)
            app.open_remedies(f"{DAY.isoformat()}/sat-ham")
            assert not app.screen.is_mounted
            app.remedying.show()
            await settled(app, pilot)
            assert "Would help" in screen_text(app)
