"""What a house's cooks teach: nothing without any, the truth with enough, and little by a wild one."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from board.commands.cook.lesson_document import lesson_document
from board.cooking.cook import AirCurve, Cook, Move, PitAir
from board.cooking.estimate import estimate
from board.cooking.known import Known
from board.cooking.learning.evidence import grouped
from board.cooking.learning.learn import NOTHING, Learned, learn
from board.cooking.learning.lesson import lesson
from board.cooking.learning.runs import cook_of, ran, slowest_of
from board.cooking.physics.parameters import parameters
from board.cooking.sampling import Draws, departed_k, departures, drawn
from board.cooking.solver.course import constants, run
from board.cooking.solver.ensemble import ensemble
from board.house.files import read_house
from board.house.past import PastCook
from board.house.seeds import seed_house
from board.house.spans import Span
from board.views.lesson import sentences

HOUSE = replace(read_house(seed_house("tallow_row")), cooks=())
FIRST = date(2026, 10, 1)
NAMES = departures(parameters())


def load(
    n: int, cut: str = "pork-shoulder", pit: str = "north", pieces: int = 1, **changes: object
) -> PastCook:
    """A load of a cut of its usual mass, nearly, on the n-th day."""
    raw = HOUSE.cuts[cut]
    plain = PastCook(
        day=FIRST + timedelta(days=n),
        cut=cut,
        pit=pit,
        pieces=pieces,
        mass_kg=raw.mass_kg.usual * (1.0 + 0.02 * (n % 5 - 2)),
        setpoint_c=121.0 + (n % 3 - 1) * 4.0,
        minutes=600.0,
        start_c=4.0,
        core_c=93.0,
    )
    return replace(plain, **changes)  # type: ignore[arg-type]


def minutes_at(cook: Cook, departed: dict[str, float]) -> float:
    """What the model takes for one piece that departs in some things."""
    normal = {name: np.array([departed.get(name, 0.0)]) for name in NAMES}
    draws = Draws(normal, np.ones(1), np.ones(1), departed_k(normal["air"], cook.pit))
    return float(run(ensemble(cook, draws, parameters()), constants(parameters())).pulled_s[0] / 60.0)


def as_cook(past: PastCook) -> Cook:
    """A past cook on its pit as nobody knows it yet."""
    return cook_of(past, HOUSE.cuts[past.cut], PitAir.of(HOUSE.pits[past.pit]), HOUSE.altitude_m)


def history(count: int, departed: dict[str, float], seed: int = 1) -> tuple[PastCook, ...]:
    """Shoulders on North, which departs in some things; each load by some per cent more or less."""
    rng = np.random.default_rng(seed)
    loads = [load(n) for n in range(count)]
    took = [minutes_at(as_cook(one), departed) * float(np.exp(rng.normal(0.0, 0.06))) for one in loads]
    return tuple(replace(one, minutes=minutes) for one, minutes in zip(loads, took, strict=True))


def taught(cooks: Sequence[PastCook]) -> Learned:
    """What the house learns from these."""
    return learn(replace(HOUSE, cooks=tuple(cooks)))


def span(learned: Learned, cut: str = "pork-shoulder", pit: str = "north") -> Span:
    """The span of one piece of a cut on a pit."""
    cook = as_cook(load(2, cut, pit))
    cook = replace(cook, setpoint_c=121.0, pit=learned.air(HOUSE.pits[pit], cut))
    return estimate([cook], members=96)[0].minutes


@pytest.fixture(scope="module")
def hard() -> tuple[PastCook, ...]:
    """Thirty shoulders on a North whose heat transfer is two standard deviations high."""
    return history(30, {"h": 2.0})


def test_a_house_without_cooks_is_estimated_as_before() -> None:
    """No history: the same air, object for object, so the same bytes."""
    assert taught(()) is NOTHING
    assert NOTHING.air(HOUSE.pits["north"], "brisket") == PitAir.of(HOUSE.pits["north"])


def test_past_cooks_run_together_take_what_each_takes_alone() -> None:
    """As members of one ensemble, coarser, each is within a part in two hundred of its own run."""
    loads = [load(0), load(1, core_c=88.0, start_c=8.0), load(2, mass_kg=5.2, setpoint_c=112.0)]
    wrapped = HOUSE.cuts["brisket"].wrap
    assert wrapped is not None
    loads += [load(3, "brisket", wrap=wrapped.material, wrap_core_c=70.0)]
    loads += [load(4, "brisket", wrap=wrapped.material, wrap_minute=300.0)]
    groups = grouped(loads, HOUSE.cuts, HOUSE.pits, HOUSE.altitude_m)
    together = {
        cook.day: ln
        for each in ran(groups, parameters())
        for cook, ln in zip(each.group.cooks, each.expected, strict=True)
    }
    for one in loads:
        cook = as_cook(one)
        slowest = slowest_of(cook.cut, cook.pit, 1).mean
        assert slowest == pytest.approx(0.0, abs=1e-12)
        assert together[one.day] == pytest.approx(np.log(minutes_at(cook, {})), abs=0.005)


def test_slopes_are_those_of_the_model() -> None:
    """The slope in h and in the air foretells a cook that departs in both to within two per cent."""
    (only,) = ran(grouped([load(0)], HOUSE.cuts, HOUSE.pits, HOUSE.altitude_m), parameters())
    h, air = NAMES.index("h"), NAMES.index("air")
    foretold = only.expected[0] + 0.5 * only.slopes.departures[h] - only.slopes.departures[air]
    foretold += 0.125 * only.slopes.bend
    assert foretold == pytest.approx(np.log(minutes_at(as_cook(load(0)), {"h": 0.5, "air": -1.0})), abs=0.02)


def test_thirty_cooks_teach_what_a_pit_is_like(hard: tuple[PastCook, ...]) -> None:
    """The span lies about the true time and is at most two thirds as wide; three cooks are between."""
    true = minutes_at(replace(as_cook(load(2)), setpoint_c=121.0), {"h": 2.0})
    none, three, thirty = (span(taught(hard[:n])) for n in (0, 3, 30))
    assert none.p50 > 1.2 * true
    assert thirty.p50 == pytest.approx(true, rel=0.05)
    assert thirty.p10 < true < thirty.p90
    ratios = [s.p90 / s.p10 for s in (none, three, thirty)]
    assert ratios[0] > ratios[1] > ratios[2]
    assert np.log(ratios[2]) < 0.667 * np.log(ratios[0])
    assert none.p50 > three.p50


def test_other_cuts_and_other_pits_learn_their_part(hard: tuple[PastCook, ...]) -> None:
    """A brisket on that pit is expected sooner too; one on another kind of pit by far less."""
    learned = taught(hard)
    here = span(learned, "brisket").p50 / span(NOTHING, "brisket").p50
    elsewhere = span(learned, "brisket", "south").p50 / span(NOTHING, "brisket", "south").p50
    assert here < 0.92
    assert 0.96 < elsewhere < 1.04


def test_a_wild_record_is_left_out_with_a_reason(hard: tuple[PastCook, ...]) -> None:
    """An hour mistyped, three times too long, moves the span by less than two per cent and is told."""
    wild = replace(hard[4], minutes=3.0 * hard[4].minutes)
    clean, spoilt = (taught(cooks) for cooks in (hard[:8], (*hard[:4], wild, *hard[5:8])))
    assert span(spoilt).p50 == pytest.approx(span(clean).p50, rel=0.02)
    (out,) = spoilt.left_out
    assert out.cook == wild
    assert "was to be expected" in out.why
    assert len(spoilt.cooks) == 7


def test_a_cook_that_cannot_be_is_left_out_with_a_reason() -> None:
    """A core above its pit's air teaches nothing and says why; alone, it leaves the prior as it was."""
    learned = taught([load(0, setpoint_c=90.0)])
    assert learned.cooks == ()
    assert "cannot bring the core" in learned.left_out[0].why
    assert learned.air(HOUSE.pits["north"], "brisket") == PitAir.of(HOUSE.pits["north"])


def test_air_that_was_read_tells_the_dial() -> None:
    """Times alone do not tell a dial from the heat; air read six degrees under in ten cooks does."""
    cooks = history(10, {"air": -2.0})
    read = [replace(one, air_c=one.setpoint_c - 6.0) for one in cooks]
    pit, cut = PitAir.of(HOUSE.pits["north"]), HOUSE.cuts["pork-shoulder"]
    unread, told = (lesson(replace(HOUSE, cooks=tuple(c)), cut, "north", pit) for c in (cooks, read))
    assert not unread.is_dial_told
    assert told.is_dial_told
    assert -7.0 < told.offset_c.p50 < -2.0
    assert told.offset_c.p90 - told.offset_c.p10 < unread.offset_c.p90 - unread.offset_c.p10
    assert "under its dial" in sentences(told, HOUSE.display)[0]
    assert "times alone do not tell" in sentences(unread, HOUSE.display)[0]


def test_first_pieces_tell_how_even_a_pit_is() -> None:
    """Last pieces far behind the first make a pit uneven, close ones even; none told, none learned."""
    usual = PitAir.of(HOUSE.pits["north"]).unevenness_c
    cooks = [replace(one, pieces=6) for one in history(8, {})]
    assert taught(cooks).evenness == {}
    far, close = (
        taught([replace(c, first_minutes=part * c.minutes) for c in cooks]).evenness["north"]
        for part in (0.6, 0.9)
    )
    assert far.kelvin.p50 > 1.3 * usual > 1.3 * close.kelvin.p50
    assert far.cooks == 8
    assert taught([replace(c, first_minutes=0.6 * c.minutes) for c in cooks]).air(
        HOUSE.pits["north"], "brisket"
    ).unevenness_c == pytest.approx(far.kelvin.p50)


def test_a_cook_that_never_ends_in_the_sums_says_nothing_of_evenness() -> None:
    """A piece typed as 150 kg leaves the pit's evenness as its other cooks tell it."""
    cooks = tuple(load(n, pieces=6, first_minutes=540.0) for n in range(3))
    endless = load(
        4, "brisket", pieces=6, mass_kg=150.0, setpoint_c=100.0, minutes=2400.0, first_minutes=2300.0
    )
    learned = taught([*cooks, endless])
    assert learned.evenness == taught(cooks).evenness
    assert endless in [each.cook for each in learned.left_out]
    assert np.isfinite(learned.air(HOUSE.pits["north"], "brisket").unevenness_c)


def test_the_lesson_counts_its_cooks(hard: tuple[PastCook, ...]) -> None:
    """How many in all, on the pit and of the cut; a house without any says so."""
    cooks = (*hard[:5], load(40, "brisket", minutes=640.0), load(41, "brisket", "south", minutes=700.0))
    of = lesson(replace(HOUSE, cooks=cooks), HOUSE.cuts["brisket"], "north", PitAir.of(HOUSE.pits["north"]))
    assert (of.cooks, of.cooks_of_pit, of.cooks_of_cut, of.cooks_of_both) == (7, 6, 2, 1)
    assert of.h_ratio.p10 < of.h_ratio.p50 < of.h_ratio.p90
    told = " ".join(sentences(of, HOUSE.display))
    assert "Learned from 6 cooks on North, 1 of brisket, and 1 on other pits" in told
    assert lesson_document(of)["left_out"] == []
    nothing = lesson(HOUSE, HOUSE.cuts["brisket"], "north", PitAir.of(HOUSE.pits["north"]))
    assert sentences(nothing, HOUSE.display) == [
        "No finished cook teaches anything of North yet: the span is that of any offset pit."
    ]


def test_a_load_that_changes_pits_meets_what_is_known_of_each() -> None:
    """Its members have each pit's own heat and air; air that was read goes before a known dial."""
    cook, fresh = as_cook(load(0)), as_cook(load(0))
    known = Known(("h", "air"), (1.5, -2.0), ((0.5, 0.0), (0.0, 0.5)))
    taught_air = replace(cook.pit, known=known)
    moved = replace(cook, pit=taught_air, move=Move(100.0, PitAir.of(HOUSE.pits["south"]), 121.0))
    here = drawn(moved, 64, 0, parameters())
    plain = drawn(fresh, 64, 0, parameters())
    assert here.there is not None
    assert here.normal["h"].mean() == pytest.approx(1.5, abs=0.01)
    np.testing.assert_array_equal(here.there.normal["h"], plain.normal["h"])
    assert plain.there is None
    read = replace(cook, pit=taught_air, air=AirCurve((0.0,), (115.0,), 60.0, departure_k=1.0))
    assert abs(drawn(read, 64, 0, parameters()).air_k.mean()) < 0.5
    assert drawn(replace(cook, pit=taught_air), 64, 0, parameters()).air_k.mean() < -4.0
