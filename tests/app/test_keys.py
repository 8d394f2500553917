"""Keys as data: each does something, none clashes, none is one that terminals swallow."""

import re
from pathlib import Path

import pytest

from board.app import keys
from board.app.app import BoardApp
from board.app.dialogs.ask import Ask
from board.app.dialogs.guide import Guide
from board.app.dialogs.pick import Pick
from board.app.dialogs.temperature import TemperatureDialog
from board.app.screens.load import LoadScreen
from board.app.screens.modes import VIEWS as VIEWS_BY_NAME
from board.app.screens.modes import screen_class
from board.app.screens.view import ViewScreen
from board.app.widgets.edges import foot
from board.app.widgets.panel import Panel
from board.app.widgets.timeline import TimelineView
from board.views.text import Tone
from tests.app.boards import board, night_ledger
from tests.app.pictures import screen_text, settled

VIEWS = (*(screen_class(name) for name in VIEWS_BY_NAME), LoadScreen)
HOLDERS = (BoardApp, *VIEWS, Panel, TimelineView)
DIALOGS = (Ask, Guide, Pick, TemperatureDialog)
SWALLOWED = {"ctrl+m", "ctrl+i", "ctrl+h", "ctrl+j", "ctrl+c", "ctrl+z", "ctrl+s", "ctrl+q"}
GROUPS = tuple(acts for name, acts in keys.SCOPES.items() if name not in keys.SHARED)


def action_names(holder: type) -> set[str]:
    """The names of the actions a class's own bindings lead to."""
    found = set()
    for binding in holder.__dict__.get("BINDINGS", ()):
        action = binding[1] if isinstance(binding, tuple) else binding.action
        found.add(action.partition("(")[0])
    return found


@pytest.mark.parametrize("holder", [*HOLDERS, *DIALOGS], ids=lambda holder: holder.__name__)
def test_every_binding_has_its_action(holder: type) -> None:
    """A key bound to an action that is not there would do nothing without a word."""
    missing = [name for name in action_names(holder) if not hasattr(holder, f"action_{name}")]
    assert missing == []


@pytest.mark.parametrize("group", GROUPS, ids=lambda group: group[0].action)
def test_no_key_means_two_things_in_one_view(group: tuple[keys.Act, ...]) -> None:
    """The keys of a view, of its lists and of the whole board are all different."""
    pressed = [key for act in (*group, *keys.EVERYWHERE, *keys.LIST) for key in act.keys.split(",")]
    assert sorted(pressed) == sorted(set(pressed))


def test_no_key_is_one_that_terminals_swallow() -> None:
    """No action rests on a key that a terminal turns into another or keeps for itself."""
    acts = [act for group in (*GROUPS, keys.EVERYWHERE, keys.LIST) for act in group]
    assert not SWALLOWED & {key for act in acts for key in act.keys.split(",")}


def test_every_act_has_an_id_and_a_sentence() -> None:
    """A house can rebind each act by its id, and help says each in a sentence."""
    for group in (*GROUPS, keys.EVERYWHERE, keys.LIST):
        for act in group:
            assert act.id
            assert act.tip.endswith(".")


def test_an_id_is_one_act_wherever_it_stands() -> None:
    """A house that changes the key of an act by its id changes nothing else with it."""
    acts = [act for group in keys.SCOPES.values() for act in group]
    assert {act.id: act for act in acts} == {act.id: act for act in reversed(acts)}


def test_every_view_has_its_scope() -> None:
    """What a view can do is checked for clashes under the view's own name."""
    for view in VIEWS:
        assert keys.SCOPES[view.NAME] is view.ACTS


def test_a_view_and_its_keys_belong_together() -> None:
    """What the foot and help list is what the view binds."""
    for view in VIEWS:
        assert issubclass(view, ViewScreen)
        assert {act.action.partition("(")[0] for act in view.ACTS} == action_names(view)


@pytest.mark.parametrize("view", VIEWS, ids=lambda view: view.NAME)
def test_the_guide_tells_every_key_of_a_view(view: type[ViewScreen]) -> None:
    """Each key stands in the view's own part of docs/board.md, or among those that work everywhere."""
    guide = Path(__file__).parents[2] / "docs/board.md"
    parts = re.split(r"^## ", guide.read_text(encoding="utf-8"), flags=re.MULTILINE)
    heading = {"wall": "The wall", "load": "A load's page"}.get(view.NAME, view.NAME.capitalize())
    told = [part for part in parts if part.startswith((heading, "Keys everywhere"))]
    assert len(told) == 2
    keys_told = {word for text in re.findall(r"`([^`\n]+)`", "".join(told)) for word in text.split()}
    acts = (*view.ACTS, *view.MOVES, *keys.EVERYWHERE)
    asked = {keys.called(key): act.id for act in acts for key in act.keys.split(",")}
    assert {key: id for key, id in asked.items() if key not in keys_told} == {}


@pytest.mark.parametrize("view", VIEWS, ids=lambda view: view.NAME)
@pytest.mark.parametrize("width", [58, 78, 118, 198])
def test_the_foot_says_no_word_twice_and_begins_with_what_the_view_is_for(
    view: type[ViewScreen], width: int
) -> None:
    """Two keys that do one thing stand by the first of them; Enter leads, and help is never left out."""
    words = [cell.text for cell in foot((*view.ACTS, *keys.EVERYWHERE), width, view.FOOT_FIRST)]
    said = [word.partition(" ")[2] for word in words]
    assert len(said) == len(set(said))
    assert words[0].startswith("Esc " if view.NAME == "wall" else "Enter ")
    assert words[-1] == "? help"


async def test_number_keys_go_to_the_five_views(tmp_path: Path) -> None:
    """1 to 5 lead from any view to any other."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(80, 24)) as pilot:
            await settled(app, pilot)
            for key, name in zip(
                "5432154321", ["Record", "Batches", "Service", "Tomorrow", "Opening"] * 2, strict=True
            ):
                await pilot.press(key)
                await pilot.pause()
                assert name in screen_text(app).splitlines()[0]


@pytest.mark.parametrize(("tone", "stays"), [(Tone.CARE, False), (Tone.LATE, False), (Tone.GOOD, True)])
async def test_what_could_not_be_done_is_not_said_in_the_next_view(
    tmp_path: Path, tone: Tone, stays: bool
) -> None:
    """A refusal belongs to the view it was given in; what was recorded goes along with its way back."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(120, 36)) as pilot:
            await settled(app, pilot)
            app.say("the door is open", tone)
            await pilot.press("5")
            await settled(app, pilot)
            assert ("the door is open" in screen_text(app)) is stays


async def test_q_leaves_with_exit_code_nought(tmp_path: Path) -> None:
    """q ends the board as done."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.press("q")
        assert (app.return_code or 0) == 0


async def test_theme_changes_with_a_key(tmp_path: Path) -> None:
    """F2 turns the dark theme light, then takes the terminal's own colours, and goes back."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.press("f2")
            assert app.theme == "ash"
            await pilot.press("f2")
            assert app.theme == "plain"
            await pilot.press("f2")
            assert app.theme == "ember"


async def test_every_line_of_the_day_changes_with_the_theme(tmp_path: Path) -> None:
    """The drawn day takes the light theme's ground at once, and wears none of the dark one's."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.press("2")
            await settled(app, pilot)
            line = app.screen.query_one(TimelineView)
            dark = grounds(line)
            await pilot.press("f2")
            await settled(app, pilot)
            assert grounds(line).isdisjoint(dark)


def grounds(line: TimelineView) -> set[str]:
    """The grounds a drawn day stands on."""
    strips = (line.render_line(y) for y in range(line.size.height))
    styles = [segment.style for strip in strips for segment in strip if segment.style]
    return {str(style.bgcolor) for style in styles if style.bgcolor}
