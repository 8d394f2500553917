"""What a plan says of how its loads are cooked safe."""

from dataclasses import replace

import pytest

from board.house.model import Display
from board.planning.cooked.judge import cooked_as_planned
from board.planning.cooked.words import degrees, not_met, said, stay
from board.planning.plan import CookedBy
from tests.planning.cooked.loads import cut_of, house_with, injected, planned

FAHRENHEIT = Display(mass="lb", temperature="degF")


def told(house, cut, load):
    """What is said of one load, and the cautions."""
    house = house_with(house, cut)
    cooked = cooked_as_planned(house, [load])
    return said(house, load, cooked[load.id]), list(not_met(house, [load], cooked))


def test_a_load_that_relies_on_its_rest_is_told_how_long_where_how_surely_and_what_to_read(two_fires):
    """The rule, the minutes, the bench, the chance and the reading before serving all stand in it."""
    says, cautions = told(two_fires, cut := injected("pork-shoulder-boned", 62.0), planned(cut, rest=45.0))
    assert says.startswith(
        "Relies on its rest: pulled at 62 °C, and injected meat is cooked after 3 min at 63 °C"
    )
    assert " min on Bench for that, and gets there " in says
    assert says.endswith("Before it is served its core must read 63 °C or more, and again 3 min later.")
    assert cautions == []


def test_a_hold_is_named_where_the_bench_is_not_enough(two_fires):
    """A roast that is cooked in the cabinet says so."""
    says, _ = told(two_fires, cut := cut_of("beef-rib-roast", 54.0), planned(cut, spare=180.0))
    assert " on Bench and in Cabinet for that" in says


def test_a_load_that_is_not_met_is_a_caution_with_the_pull_that_would_do(two_fires):
    """Chicken pulled at 68 °C is told with 74 °C."""
    says, cautions = told(two_fires, cut := cut_of("chicken-half", 68.0), planned(cut))
    assert says.startswith("Not cooked safe as planned: pulled at 68 °C, and poultry is cooked at 74 °C;")
    assert says.endswith("Pull at 74 °C.")
    assert len(cautions) == 1
    assert cautions[0].startswith("2 chicken halves for ")
    assert "not cooked safe as planned" in cautions[0]


def test_a_house_that_reads_fahrenheit_is_told_the_printed_fahrenheit(two_fires):
    """Food Code 3-401.11(A)(2) prints 155 °F beside 68 °C, which are not the same: 68 °C is 154.4 °F."""
    house = replace(two_fires, display=FAHRENHEIT)
    says, _ = told(house, cut := injected("pork-shoulder-boned", 68.5), planned(cut))
    assert says == "Cooked at its pull: injected meat is cooked after 17 s at 155 °F or more."


@pytest.mark.parametrize(
    ("celsius", "in_c", "in_f"),
    [(62.8, "62.8 °C", "146 °F"), (74.0, "74 °C", "166 °F"), (70.0, "70 °C", "158 °F")],
)
def test_a_limit_is_never_told_lower_than_it_is(celsius, in_c, in_f):
    """Rounded up: 62.8 °C is 145.04 °F, and 145 on the dial is not it."""
    assert degrees(celsius, Display()) == in_c
    assert degrees(celsius, FAHRENHEIT) == in_f


@pytest.mark.parametrize(
    ("seconds", "words"), [(15, "15 s"), (134, "134 s"), (180, "3 min"), (6720, "1 h 52")]
)
def test_stays_are_told_as_the_rules_print_them(seconds, words):
    """Seconds where they are no whole minutes."""
    assert stay(seconds / 60) == words


def test_a_roast_in_too_cool_a_pit_says_that(two_fires):
    """The chart's oven is what keeps it from counting."""
    cut = cut_of("pork-shoulder-boned", 57.0)
    says, cautions = told(two_fires, cut, planned(cut, setpoint_c=110.0))
    assert "a whole roast in a pit too cool for the roast chart is cooked after 15 s at 63 °C" in says
    assert cautions
    assert cooked_as_planned(house_with(two_fires, cut), [planned(cut)])["one"].by is not CookedBy.PULL
