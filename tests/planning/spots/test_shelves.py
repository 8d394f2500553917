"""Benches, holds and the walk-in: room that is there in corners only is no room."""

from datetime import date

from board.planning.walk_in import cautions
from tests.planning.traps import exact

DAY = date(2026, 6, 10)
NIGHT = exact.crew(("late", ("nan", "abe"), "18:10", 8), ("day", ("dot", "eli"), "08:00", 8))


def waiting(folder, holds, crew=NIGHT):
    """Halves of 0.2 m² each, loaded before 02:10 and off at 08:10, that wait for 11:00."""
    return exact.house(
        folder,
        pits=exact.pit("box", 1),
        cuts=exact.cut("chicken-half", "0.2", rest=30, hold=240),
        items=exact.item("bird", "chicken-half"),
        services=exact.service("lunch", "11:00", bird=3),
        holds='[bench]\narea = "1 m2"\n' + holds,
        crew=crew,
    )


def hold(name, area):
    """A hot hold of so many square metres."""
    return f'[{name}]\narea = "{area} m2"\nsetpoint = "65 C"\n'


def test_three_pieces_do_not_fit_two_holds_of_one_and_a_half(tmp_path, monkeypatch):
    """0.3 + 0.3 m² are room for three halves of 0.2 only if one is cut in two: two are served, one is not."""
    exact.exactly(monkeypatch, chicken_half=360)
    plan = exact.planned(waiting(tmp_path, hold("left", 0.3) + hold("right", 0.3)), DAY)
    assert sum(load.portions for load in plan.loads) == 2
    assert [(short.item, short.portions) for short in plan.short] == [("bird", 1)]
    assert "hold" in plan.short[0].why


def test_a_load_is_shared_over_two_holds_piece_by_piece(tmp_path, monkeypatch):
    """0.4 + 0.2 m² take two and one."""
    exact.exactly(monkeypatch, chicken_half=360)
    plan = exact.planned(waiting(tmp_path, hold("left", 0.4) + hold("right", 0.2)), DAY)
    assert plan.short == ()
    assert {name for load in plan.loads for name in (load.hold or "").split(", ")} == {"left", "right"}


def brined(folder, walk_in):
    """Four loins of 4.1 kg, brined at least ten hours before they go on at 08:55."""
    brine = '[[pork-loin.prep]]\nwhat = "brine"\nwork = { fixed = "5 min" }\ngap = ["10 h", "12 h"]\n'
    return exact.house(
        folder,
        pits=exact.pit("box", 1),
        cuts=exact.cut("pork-loin", "0.1").replace("area =", 'mass = ["4 kg", "4.1 kg", "4.2 kg"]\narea =')
        + brine,
        items=exact.item("slice", "pork-loin"),
        services=exact.service("lunch", "11:00", slice=4),
        house='name = "Two Fires"\nzone = "America/Chicago"\nchance = "90 %"\n' + walk_in,
    )


def test_the_walk_in_over_full_is_said_with_how_much_and_when(tmp_path, monkeypatch):
    """16.4 kg in a walk-in that takes 10: 6.4 kg over, and which meat it is."""
    exact.exactly(monkeypatch, pork_loin=120)
    house = brined(tmp_path, 'walk_in = "10 kg"\n')
    plan = exact.planned(house, DAY)
    (said,) = plan.cautions
    assert "6.4 kg over full" in said
    assert "from 22:55 on Tue 9 Jun to 08:55" in said
    assert "some of 4 pork loins must be kept cold elsewhere" in said
    assert cautions(house, plan.loads[:0], plan.steps) == ()


def test_a_house_without_a_walk_in_is_told_what_must_be_kept_cold(tmp_path, monkeypatch):
    """Raw meat that waits ten hours needs a cold place: all of it is told where there is no walk-in."""
    exact.exactly(monkeypatch, pork_loin=120)
    plan = exact.planned(brined(tmp_path, 'walk_in = "0 kg"\n'), DAY)
    assert plan.cautions == (
        "There is no walk-in for 16.4 kg of raw meat from 22:55 on Tue 9 Jun to 08:55 on Wed 10 Jun: "
        "4 pork loins must be kept cold elsewhere.",
    )


def test_a_walk_in_the_house_does_not_state_is_not_limited(tmp_path, monkeypatch):
    """Nothing is said of room nobody has measured."""
    exact.exactly(monkeypatch, pork_loin=120)
    assert exact.planned(brined(tmp_path, ""), DAY).cautions == ()
