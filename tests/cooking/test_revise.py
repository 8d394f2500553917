"""Readings narrow the estimate: honest spans, nearer middles, and an answer whatever is read."""

import numpy as np
import pytest

from board.cooking.cook import Cook, Estimate, PitAir
from board.cooking.errors import CookingError
from board.cooking.estimate import estimate
from board.cooking.readings.paths import to_the_end
from board.cooking.readings.revise import Revision, revise
from board.house.library import library_cut
from board.house.model import PitKind

BRISKET = Cook(library_cut("brisket"), 6.5, 1, PitAir.usual(PitKind.OFFSET), 118.0, 94.0)


@pytest.fixture(scope="module")
def expected() -> Estimate:
    """What was expected of the brisket."""
    return estimate([BRISKET], members=200, curves=True)[0]


@pytest.fixture(scope="module")
def truths() -> Estimate:
    """Other briskets, of another seed, that stand for what happens."""
    return estimate([BRISKET], members=120, seed=11, curves=True)[0]


def readings_of(truths: Estimate, member: int, upto: float, every: float = 5.0) -> list[tuple[float, float]]:
    """A probe's readings of one true cook, with noise."""
    assert truths.paths is not None
    minutes = np.arange(every, upto, every)
    noise = np.random.default_rng(member).normal(0.0, 0.5, len(minutes))
    core = np.interp(minutes, truths.paths.minutes, np.nan_to_num(truths.paths.core[member], nan=94.0))
    return list(zip(minutes.tolist(), (core + noise).tolist(), strict=True))


@pytest.mark.parametrize(("share", "minutes"), [(0.25, 85.0), (0.5, 60.0), (0.75, 35.0)])
def test_spans_hold_and_middles_come_nearer(
    expected: Estimate, truths: Estimate, share: float, minutes: float
) -> None:
    """Of 120 synthetic cooks the 10–90 % span holds 70 to 94 %; the median error is small and falls."""
    held, errors = [], []
    for member, true in enumerate(truths.member_minutes):
        found = revise(expected, readings_of(truths, member, share * true))
        held.append(found.p10 <= true <= found.p90)
        errors.append(abs(found.p50 - true))
    assert 0.70 < np.mean(held) < 0.94
    assert np.median(errors) < minutes
    assert np.median(errors) < np.median(np.abs(expected.minutes.p50 - truths.member_minutes))


def test_no_reading_leaves_the_estimate_as_it_was(expected: Estimate) -> None:
    """Nothing read, nothing learnt."""
    assert revise(expected, []) == Revision(expected.minutes.p10, expected.minutes.p50, expected.minutes.p90)


def test_order_and_repeats_do_not_matter(expected: Estimate, truths: Estimate) -> None:
    """Readings out of order give the same answer."""
    readings = readings_of(truths, 3, 300.0)
    assert revise(expected, readings) == revise(expected, readings[::-1])


def test_a_core_that_is_there_is_done(expected: Estimate) -> None:
    """Once a reading is at the target, the cook took until then."""
    assert revise(expected, [(300.0, 70.0), (500.0, 94.5), (510.0, 95.0)]).p50 == 500.0


@pytest.mark.parametrize(("core_c", "side"), [(12.0, "slower"), (90.0, "faster")])
def test_a_cook_unlike_any_other_gets_an_answer_and_a_warning(
    expected: Estimate, core_c: float, side: str
) -> None:
    """A core far below or above every member's still gives a span, with a plain warning."""
    found = revise(expected, [(240.0, core_c)])
    assert found.warning is not None
    assert side in found.warning
    assert 240.0 <= found.p10 <= found.p50 <= found.p90


def test_a_cook_later_than_all_gets_an_answer(expected: Estimate) -> None:
    """Readings long after the last member's end still give a span beyond now."""
    late = float(expected.member_minutes.max()) + 60.0
    found = revise(expected, [(late - 30.0, 78.0), (late, 80.0)])
    assert found.warning is not None
    assert found.p90 > late


@pytest.mark.parametrize("reading", [(60.0, 400.0), (60.0, float("nan")), (-5.0, 40.0), (float("nan"), 40.0)])
def test_an_impossible_reading_is_refused(expected: Estimate, reading: tuple[float, float]) -> None:
    """A core no meat can have, or a time before loading, is refused in one line."""
    with pytest.raises(CookingError):
        revise(expected, [reading])


def test_a_cut_cooked_until_tender_is_not_done_at_its_core() -> None:
    """Spare ribs read at their core are hot, not tender: the answer lies ahead, and narrows as they go on."""
    cut = library_cut("spare-ribs")
    cook = Cook(
        cut, 1.5, 1, PitAir.usual(PitKind.OFFSET), 121.0, cut.end_core_c, tender_minutes=cut.tender_minutes
    )
    expected = estimate([cook], members=200, curves=True)[0]
    truths = estimate([cook], members=60, seed=11, curves=True)[0]
    assert truths.paths is not None
    errors = []
    for path, total in zip(to_the_end(truths.paths.core), truths.member_minutes, strict=True):
        minutes = np.arange(5.0, 0.75 * total, 5.0)
        core = np.interp(minutes, truths.paths.minutes, path)
        found = revise(expected, list(zip(minutes.tolist(), core.tolist(), strict=True)))
        assert found.p90 > minutes[-1]
        errors.append(abs(found.p50 - total))
    assert np.median(errors) < 0.5 * np.median(np.abs(expected.minutes.p50 - truths.member_minutes))


def test_an_unlikely_course_is_said_wider(expected: Estimate) -> None:
    """A core that starts as the slowest and then as the fastest is answered wider, with a warning."""
    usual = [(60.0 * h, float(np.interp(60.0 * h, *_middle(expected)))) for h in range(1, 7)]
    odd = [*usual[:2], *((minute, core_c + 9.0) for minute, core_c in usual[2:4]), *usual[4:]]
    plain, strange = revise(expected, usual), revise(expected, odd)
    assert plain.warning is None
    assert strange.warning is not None
    assert strange.p90 - strange.p10 > plain.p90 - plain.p10


def _middle(expected: Estimate) -> tuple[np.ndarray, np.ndarray]:
    """The middle core over the minutes."""
    assert expected.curve is not None
    return expected.curve.minutes, expected.curve.core_p50
