"""Whether a record shows meat cooked: each row of each rule on its limit, and what must always hold."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.house.model import JURISDICTIONS, Handling
from board.safety.cooked import cooked
from board.safety.log import TemperatureLog
from board.safety.ovens import Oven
from board.safety.verdict import Answer
from tests.safety.records import colder, fahrenheit, filled, holed, plateau, record, record_f, records

# FDA Food Code 3-401.11, as printed: °C, °F, seconds
CHART = [
    (54.4, 130, 6720),
    (55.0, 131, 5340),
    (56.1, 133, 3360),
    (57.2, 135, 2160),
    (57.8, 136, 1680),
    (58.9, 138, 1080),
    (60.0, 140, 720),
    (61.1, 142, 480),
    (62.2, 144, 300),
    (62.8, 145, 240),
    (63.9, 147, 134),
    (65.0, 149, 85),
    (66.1, 151, 54),
    (67.2, 153, 34),
    (68.3, 155, 22),
    (69.4, 157, 14),
    (70.0, 158, 0),
]
PIERCED = [(63, 145, 180), (66, 150, 60), (68, 155, 17), (70, 158, 0)]
BIRD = [(74, 165, 0)]
RULES = {
    Handling.INTACT_ROAST: CHART,
    Handling.CURED_HAM: CHART,
    Handling.INTACT_CUT: [(63, 145, 15), (70, 158, 0)],
    Handling.INJECTED: PIERCED,
    Handling.GROUND: PIERCED,
    Handling.POULTRY: BIRD,
    Handling.STUFFED: BIRD,
}
ROWS = [(handling, *row) for handling, rows in RULES.items() for row in rows]
handlings = st.sampled_from(list(Handling))


@pytest.mark.parametrize("handling", list(Handling))
def test_each_rule_has_the_rows_it_is_printed_with(handling: Handling):
    """Temperatures and times of the record's rows are those of FDA Food Code 3-401.11."""
    verdict = cooked(plateau(20, 60), handling)
    assert [(row.at_or_above_c, row.needed_seconds) for row in verdict.held] == [
        (c, seconds) for c, _, seconds in RULES[handling]
    ]
    assert "3-401.11" in verdict.source


@pytest.mark.parametrize(("handling", "c", "f", "seconds"), ROWS)
def test_exactly_on_a_row_passes_in_either_scale(handling: Handling, c: float, f: float, seconds: float):
    """The printed °C and the printed °F, for the printed time to the second, are enough."""
    assert cooked(plateau(c, seconds or 1), handling).answer is Answer.PASS
    assert cooked(plateau(fahrenheit(f), seconds or 1, in_fahrenheit=True), handling).answer is Answer.PASS
    assert cooked(plateau(fahrenheit(f), seconds or 1), handling).answer is Answer.PASS


@pytest.mark.parametrize(("handling", "c", "f", "seconds"), ROWS)
def test_a_hair_under_a_row_fails(handling: Handling, c: float, f: float, seconds: float):
    """A tenth of a second short, or a hundredth of a degree under both prints, is not enough by that row."""
    if seconds:
        assert cooked(plateau(c, seconds - 0.1), handling).answer is Answer.FAIL
    under = min(c, fahrenheit(f)) - 0.01
    assert cooked(plateau(under, seconds or 1), handling).answer is Answer.FAIL
    assert (
        cooked(plateau(fahrenheit(f - 0.01), seconds or 1, in_fahrenheit=True), handling).answer
        is Answer.FAIL
    )


@pytest.mark.parametrize("read", [62.8, 63.0, fahrenheit(145)])
def test_145_fahrenheit_however_it_is_printed(read: float):
    """3-401.11(A)(1) prints 63 °C for 145 °F, which is 62.8 °C: each of them is enough, 62.7 °C is not."""
    assert cooked(plateau(read, 15), Handling.INTACT_CUT).answer is Answer.PASS
    assert cooked(plateau(62.7, 15), Handling.INTACT_CUT).answer is Answer.FAIL


def test_injected_meat_is_no_roast():
    """Twelve minutes at 60 °C cook an intact roast and not an injected one."""
    log = plateau(60, 720)
    assert cooked(log, Handling.INTACT_ROAST).answer is Answer.PASS
    injected = cooked(log, Handling.INJECTED)
    assert injected.answer is Answer.FAIL
    assert "never reached 63 °C" in injected.why
    assert any("not as an intact roast" in caution for caution in injected.cautions)


def test_the_rest_counts():
    """Pulled at 60 °C and still there after 12 minutes on the bench; by the pull alone it was not cooked."""
    on_the_pit = [(0.0, 4.0), (100.0, 50.0), (120.0, 59.0), (122.0, 60.0)]
    rest = [(126.0, 60.6), (134.0, 60.0), (150.0, 55.0)]
    assert cooked(record(*on_the_pit), Handling.INTACT_ROAST).answer is Answer.NOT_SHOWN
    rested = cooked(record(*on_the_pit, *rest), Handling.INTACT_ROAST)
    assert rested.answer is Answer.PASS
    assert "12 min is asked" in rested.why


def test_a_record_that_ends_hot_or_rising_says_what_would_settle_it():
    """Half the time at 60 °C when the record ends: not shown, and the readings that would show it."""
    hot = cooked(record((0, 20), (60, 60), (66, 60)), Handling.INTACT_ROAST)
    assert hot.answer is Answer.NOT_SHOWN
    assert "ends at 60 °C" in hot.why
    assert "60 °C (140 °F) or hotter for 12 min on end" in hot.settle
    assert "70 °C (158 °F)" in hot.settle
    rising = cooked(record((0, 20), (60, 50), (66, 52)), Handling.INJECTED)
    assert (rising.answer, "still rises" in rising.why) == (Answer.NOT_SHOWN, True)


def test_a_record_that_begins_hot_leaves_out_what_came_before():
    """A probe put in late does not show that the meat was not cooked."""
    verdict = cooked(record((0, 64), (1, 60), (30, 40)), Handling.INJECTED)
    assert (verdict.answer, "begins at 64 °C" in verdict.why) == (Answer.NOT_SHOWN, True)


def test_one_reading_shows_only_what_needs_no_time():
    """74 °C at once cooks poultry; 63 °C shows nothing of the next 15 seconds, nor 60 °C of anything."""
    assert cooked(record((0, 74)), Handling.POULTRY).answer is Answer.PASS
    assert cooked(record((0, 63)), Handling.INTACT_CUT).answer is Answer.NOT_SHOWN
    assert cooked(record((0, 60)), Handling.INTACT_CUT).answer is Answer.NOT_SHOWN
    assert cooked(record((0, 70)), Handling.INTACT_CUT).answer is Answer.PASS
    assert cooked(record(), Handling.POULTRY).answer is Answer.NOT_SHOWN


def test_a_gap_may_hide_the_time():
    """The same record with a reading lost: cooked for all one knows, but not shown."""
    whole = [(0.0, 20.0), (60.0, 60.0), (66.0, 60.0), (72.0, 60.0), (73.0, 40.0)]
    assert cooked(record(*whole), Handling.INTACT_ROAST).answer is Answer.PASS
    lost = [(m, None if m == 66 else c) for m, c in whole]
    assert cooked(record(*lost), Handling.INTACT_ROAST).answer is Answer.NOT_SHOWN


def test_a_gap_too_short_to_hide_the_time_hides_nothing():
    """In the United Kingdom 6 s at 80 °C are enough: they may lie in a silence of 6 s, not in one of 5 s."""
    for silent_s, expected in ((5, Answer.FAIL), (6, Answer.NOT_SHOWN)):
        log = record((0, 20), (60, 62), (60.05, None), (60 + silent_s / 60, 62), (65, 20))
        assert cooked(log, Handling.INTACT_CUT, place="uk").answer is expected


def test_rows_are_never_added_together():
    """Half the time at 60 °C and half of it at 62.2 °C are neither row's time."""
    log = record((0, 20), (59.99, 20), (60, 60), (66, 60), (66.01, 62.2), (68.5, 62.2), (68.51, 20), (80, 20))
    assert cooked(log, Handling.INTACT_ROAST).answer is Answer.FAIL


@pytest.mark.parametrize(
    ("oven", "answer"),
    [
        (Oven(fahrenheit(250), 4.6), Answer.PASS),
        (Oven(121.0, 4.5), Answer.PASS),
        (Oven(120.0, 4.6), Answer.FAIL),
        (Oven(fahrenheit(250), 4.4), Answer.FAIL),
        (Oven(177.0, 4.4), Answer.PASS),
        (Oven(163.0, 4.4), Answer.FAIL),
        (Oven(163.0, 4.4, convection=True), Answer.PASS),
        (Oven(107.0, 6.0), Answer.FAIL),
        (Oven(107.0, 6.0, humid=True), Answer.PASS),
        (Oven(fahrenheit(250), 4.4, humid=True), Answer.PASS),
        (Oven(130.0, 4.4, humid=True), Answer.FAIL),
        (None, Answer.PASS),
    ],
)
def test_the_chart_is_for_ovens_as_hot_as_it_asks(oven: Oven | None, answer: Answer):
    """3-401.11(B): dry 177 °C under 4.5 kg and 121 °C from it, convection 163 °C, humid 121 °C at most.

    A roast at 60 °C for 12 minutes from a cooler dry pit falls under (A)(1), 63 °C. One in a humid oven
    that is hotter than the humid row is judged by its dry row.
    """
    assert cooked(plateau(60, 720), Handling.INTACT_ROAST, oven=oven).answer is answer


def test_a_roast_out_of_a_low_dry_pit_is_cooked_at_145_fahrenheit():
    """The rule of other intact meat then counts, and the verdict says why."""
    verdict = cooked(plateau(63, 15), Handling.INTACT_ROAST, oven=Oven(107.0, 6.0))
    assert verdict.answer is Answer.PASS
    assert "3-401.11(A)(1)" in verdict.source
    assert "cooler than the 121" in verdict.cautions[0]


def test_a_cured_ham_out_of_a_low_dry_pit_is_cooked_as_injected_meat():
    """Its cure was driven in: (A)(2), 63 °C for 3 minutes."""
    pit = Oven(107.0, 6.0)
    assert cooked(plateau(63, 180), Handling.CURED_HAM, oven=pit).answer is Answer.PASS
    short = cooked(plateau(63, 179), Handling.CURED_HAM, oven=pit)
    assert (short.answer, "3-401.11(A)(2)" in short.source) == (Answer.FAIL, True)


def test_the_chart_warns_of_the_oven_where_it_is_not_told():
    """A record of the core does not show the oven; other rules ask nothing of it."""
    assert "no record of the core shows that" in cooked(plateau(60, 720), Handling.CURED_HAM).cautions[0]
    said = " ".join(cooked(plateau(63, 720), Handling.INJECTED).cautions)
    assert "oven" not in said


@pytest.mark.parametrize(
    ("handling", "said"),
    [
        (Handling.CURED_HAM, "fully cooked in an inspected plant is only reheated"),
        (Handling.GROUND, "Ground poultry is cooked as poultry"),
        (Handling.STUFFED, "The middle of the stuffing counts"),
    ],
)
def test_what_to_know_of_a_rule_is_said(handling: Handling, said: str):
    """A ham cooked from raw, ground poultry, and stuffing."""
    assert any(said in caution for caution in cooked(plateau(74, 1), handling).cautions)


def test_the_united_kingdom_and_the_european_union():
    """70 °C for 2 minutes by the United Kingdom's table; the European Union borrows, and says so."""
    for handling in Handling:
        assert cooked(plateau(70, 120), handling, place="uk").answer is Answer.PASS
        assert cooked(plateau(70, 119), handling, place="uk").answer is Answer.FAIL
    borrowed = cooked(plateau(74, 1), Handling.POULTRY, place="eu")
    assert borrowed.answer is Answer.PASS
    assert any("prints no figure of its own" in caution for caution in borrowed.cautions)


def test_what_plants_may_do_is_said_beside_the_verdict():
    """Turkey at 62.8 °C for 14 minutes meets the plants' tables and fails the Food Code's 74 °C."""
    verdict = cooked(plateau(fahrenheit(145), 14 * 60), Handling.POULTRY)
    assert verdict.answer is Answer.FAIL
    assert "FSIS Appendix A" in verdict.cautions[0]
    assert "only under a plan" in verdict.cautions[0]
    assert not any("FSIS" in said for said in cooked(plateau(62, 14 * 60), Handling.POULTRY).cautions)


def test_meat_that_warms_for_over_six_hours_is_warned_of():
    """USDA FSIS Appendix A (2021): from 10 to 54.4 °C within 6 h."""
    slow = cooked(
        record((0, 4), (60, 10), (180, 30), (300, 45), (400, 53), (421, 54.4), (540, 75)),
        Handling.INTACT_ROAST,
    )
    assert slow.answer is Answer.PASS
    assert any("allows 6 h" in caution for caution in slow.cautions)
    quick = cooked(
        record((0, 4), (60, 10), (180, 30), (300, 45), (400, 53), (419, 54.4), (530, 75)),
        Handling.INTACT_ROAST,
    )
    assert not any("allows 6 h" in caution for caution in quick.cautions)


def test_a_record_in_fahrenheit_is_judged_in_fahrenheit():
    """68 °C is 154.4 °F: enough in °C by the print of 68, not enough where the row is read as 155 °F."""
    seventeen = ((0, 68.0), (17 / 60, 68.0), (20 / 60, 60.0))
    assert cooked(record((-1, 20), *seventeen), Handling.GROUND).held[2].seconds >= 17
    in_f = record_f((-1, 68), *((m, c * 1.8 + 32) for m, c in seventeen))
    assert cooked(in_f, Handling.GROUND).held[2].seconds == 0


def test_a_verdict_has_no_open_question_when_settled():
    """What would settle it is asked only of a record that does not show it."""
    for log, handling in ((plateau(74, 1), Handling.POULTRY), (plateau(73, 1), Handling.POULTRY)):
        assert cooked(log, handling).settle == ""
    assert cooked(record((0, 60)), Handling.POULTRY).settle


@given(st.data(), records(), handlings, st.sampled_from(JURISDICTIONS))
def test_readings_on_the_straight_line_change_no_verdict(data, log: TemperatureLog, handling, place):
    """Any number of readings between two others, on their line."""
    assert (
        cooked(data.draw(filled(log)), handling, place=place).answer
        is cooked(log, handling, place=place).answer
    )


@given(st.data(), records(gaps=False, low=45.0, high=75.0), handlings)
def test_a_gap_never_makes_a_pass(data, log: TemperatureLog, handling):
    """What the readings that are left show, all of them showed."""
    if cooked(data.draw(holed(log)), handling).answer is Answer.PASS:
        assert cooked(log, handling).answer is Answer.PASS


@given(st.data(), records(low=45.0, high=75.0), handlings)
def test_a_longer_silence_never_makes_a_pass_of_what_is_not_shown(data, log: TemperatureLog, handling):
    """Hours without a reading put in anywhere prove nothing."""
    at = data.draw(st.integers(0, len(log.minutes)))
    shifted = tuple(m + (600.0 if i >= at else 0.0) for i, m in enumerate(log.minutes))
    if cooked(log, handling).answer is not Answer.PASS:
        assert cooked(TemperatureLog(shifted, log.temperatures_c), handling).answer is not Answer.PASS


@given(st.data(), records(low=45.0, high=75.0), handlings)
def test_a_colder_record_gains_neither_verdict_nor_lethality(data, log: TemperatureLog, handling):
    """Colder throughout: never from anything to a pass, and never more decades."""
    hot, cold = cooked(log, handling), cooked(data.draw(colder(log)), handling)
    assert (cold.lethality_log10 or 0.0) <= (hot.lethality_log10 or 0.0) + 1e-9
    if cold.answer is Answer.PASS:
        assert hot.answer is Answer.PASS
