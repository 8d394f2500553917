"""Hands that are taken: steps make way, fires are lit sooner, and what nobody can do is said."""

from datetime import date

from tests.planning.checker import faults
from tests.planning.traps import exact

DAY = date(2026, 6, 10)


def prep(what, shortest, longest):
    """A step of the halves' preparation, of five minutes."""
    gap = f'gap = ["{shortest} min", "{longest} min"]'
    return f'[[chicken-half.prep]]\nwhat = "{what}"\nwork = {{ fixed = "5 min" }}\n{gap}\n'


def cold_from(name, at):
    """A pit that is out of use from a time on."""
    return exact.pit(name, 1) + f'[[{name}.out]]\nat = "{at}"\nlasts = "2 h"\nrule = "FREQ=DAILY"\n'


def morning(folder, steps, crew):
    """A loin off at 07:00 sharp, and halves on at 08:10 for 11:00: none held, nor halves late."""
    return exact.house(
        folder,
        pits=cold_from("box", "11:05") + cold_from("den", "11:05"),
        cuts=exact.cut("chicken-half", "0.1") + steps + exact.cut("pork-loin", "0.1"),
        items=exact.item("bird", "chicken-half") + exact.item("slice", "pork-loin"),
        services=exact.service("breakfast", "07:00", slice=1) + exact.service("lunch", "11:00", bird=4),
        crew=crew,
    )


ALONE = exact.crew(("all", ("abe",), "00:00", 24))


def at(plan, what, cut):
    """When a step of the only load of a cut is, on the clock of Chicago in summer, and who does it."""
    (load,) = [load for load in plan.loads if load.cut == cut]
    (step,) = [step for step in plan.steps if step.load == load.id and step.what == what]
    return f"{step.at.hour - 5:02}:{step.at.minute:02}", step.who


def test_a_later_step_goes_earlier_so_that_the_one_before_it_finds_a_hand(tmp_path, monkeypatch):
    """Brined 60 minutes to the minute before the rub, at 07:00 as the only hand pulls the loin.

    The rub may be up to an hour before loading: at 08:00 instead of 08:05, the brine is at 06:55.
    """
    exact.exactly(monkeypatch, chicken_half=165, pork_loin=120)
    house = morning(tmp_path, prep("brine", 60, 60) + prep("rub", 0, 60), ALONE)
    plan = exact.planned(house, DAY)
    assert at(plan, "load", "chicken-half") == ("08:10", "abe")
    assert at(plan, "pull", "pork-loin") == ("07:00", "abe")
    assert at(plan, "rub", "chicken-half") == ("08:00", "abe")
    assert at(plan, "brine", "chicken-half") == ("06:55", "abe")
    assert plan.cautions == ()
    assert faults(plan, house) == []


def test_what_truly_nobody_can_do_is_said_in_a_sentence(tmp_path, monkeypatch):
    """With the rub just before loading the brine has but the one minute at which the loin is pulled."""
    exact.exactly(monkeypatch, chicken_half=165, pork_loin=120)
    house = morning(tmp_path, prep("brine", 60, 60) + prep("rub", 0, 0), ALONE)
    plan = exact.planned(house, DAY)
    bare = [step for step in plan.steps if step.who is None]
    assert [step.what for step in bare] == ["brine"]
    assert plan.cautions == (
        "Nobody is free to brine 4 chicken halves at 07:00 on Wed 10 Jun, or whenever else it may be done.",
    )
    assert faults(plan, house) == [f"{bare[0].id}: nobody does it"]


def test_a_fire_is_lit_sooner_where_nobody_is_there_all_through_its_lighting(tmp_path, monkeypatch):
    """Ten minutes' lighting at 07:40 would run over the change of hands at 07:45: Abe lights it at 07:35."""
    exact.exactly(monkeypatch, chicken_half=165)
    house = exact.house(
        tmp_path,
        pits=exact.pit("box", 1) + 'light_work = "10 min"\n',
        cuts=exact.cut("chicken-half", "0.1"),
        items=exact.item("bird", "chicken-half"),
        services=exact.service("lunch", "11:00", bird=4),
        crew=exact.crew(("early", ("abe",), "00:00", 7.75), ("late", ("dot",), "07:45", 16)),
    )
    plan = exact.planned(house, DAY)
    (light,) = [step for step in plan.steps if step.what == "light"]
    assert (light.at.hour - 5, light.at.minute, light.who) == (7, 35, "abe")
    assert at(plan, "load", "chicken-half") == ("08:10", "dot")
    assert plan.cautions == ()
    assert faults(plan, house) == []
