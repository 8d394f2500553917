"""The account of a cook: its figures add up, agree with the ensemble's, and say what a change does."""

import json
from dataclasses import replace
from itertools import pairwise
from math import log

import pytest
from click.testing import CliRunner

from board.commands.cook import command
from board.cooking.account.account import account
from board.cooking.account.figures import Account, Change, Part, Unknown
from board.cooking.cook import Cook, Estimate, PitAir
from board.cooking.estimate import estimate
from board.cooking.known import Known
from board.house.library import library_cut
from board.house.model import Display, PitKind, Wrap, WrapMaterial
from board.views.cook_account import heavier_kg, hotter_k, tables

WRAPPED = "brisket in paper"
CASES = ("brisket", WRAPPED, "pork-shoulder", "chicken-half", "turkey-breast")


def cook_of(case: str, pieces: int = 1) -> Cook:
    """A usual cook of a library cut on an offset pit."""
    cut = library_cut("brisket" if case == WRAPPED else case)
    wrap = cut.wrap if case == WRAPPED else None
    pit = PitAir.usual(PitKind.OFFSET)
    tender = cut.tender_minutes
    return Cook(
        cut,
        cut.mass_kg.usual,
        pieces,
        pit,
        cut.pit_c.usual,
        cut.end_core_c,
        wrap=wrap,
        tender_minutes=tender,
    )


@pytest.fixture(scope="module")
def told() -> dict[tuple[str, int], tuple[Cook, Estimate, Account]]:
    """Every case alone and as a load of twelve, with its estimate and its account."""
    cooks = {(case, pieces): cook_of(case, pieces) for case in CASES for pieces in (1, 12)}
    found = estimate(list(cooks.values()), members=120, curves=True)
    return {
        key: (cook, each, account(cook, each)) for (key, cook), each in zip(cooks.items(), found, strict=True)
    }


@pytest.mark.parametrize("case", CASES)
def test_stretches_make_up_the_middle_cook(told: dict, case: str) -> None:
    """The stretches follow on each other from the start to the pull, and their minutes are the whole."""
    cook, _, found = told[case, 1]
    assert sum(s.minutes for s in found.stretches) == pytest.approx(found.middle, abs=3.0)
    assert all(a.to_c == pytest.approx(b.from_c, abs=0.5) for a, b in pairwise(found.stretches))
    assert found.stretches[0].from_c == cook.start_c
    assert found.stretches[-1].to_c >= cook.until_core_c - 0.1


@pytest.mark.parametrize("case", CASES)
def test_what_left_is_the_weight_lost(told: dict, case: str) -> None:
    """What steamed, what dripped and the fat are the weight lost: all but what wets the surface at the ends.

    The surface film is 0.1 kg/m² at loading, under 1 % of these pieces' weight.
    """
    _, each, found = told[case, 1]
    gone = 100.0 * (found.steamed_kg_kg + found.dripped_kg_kg + found.fat_kg_kg)
    assert gone == pytest.approx(each.loss_percent.p50, abs=2.0)


def test_in_the_stall_most_of_the_heat_is_steam(told: dict) -> None:
    """What a stall is: more of the heat leaves as steam in it than before it, and more than half."""
    _, _, found = told["brisket", 1]
    share = {s.part: s.steam_j_kg / s.heat_j_kg for s in found.stretches}
    assert share[Part.STALL] > max(share[Part.COLD], share[Part.WARMING], 0.5)


@pytest.mark.parametrize("case", CASES)
@pytest.mark.parametrize("pieces", [1, 12])
def test_changes_go_the_way_physics_says(told: dict, case: str, pieces: int) -> None:
    """Hotter, quicker and wrapped are sooner; heavier, colder, a later pull and an open wrap are longer."""
    _, _, found = told[case, pieces]
    worth = {w.change: w.minutes for w in found.worths}
    assert worth[Change.HOTTER] < 0 > worth[Change.QUICKER_PIT]
    assert worth[Change.HEAVIER] >= -0.5
    further = Change.SOFTER if told[case, pieces][0].tender_minutes else Change.LATER_PULL
    assert worth[Change.COLDER] > 0 < worth[further]
    if case == WRAPPED:
        assert worth[Change.OPEN] > 0
        assert Change.PAPER not in worth
    elif Change.FOIL in worth:
        assert worth[Change.FOIL] <= 0.5
    assert (Change.ONE_PIECE in worth) == (pieces > 1)
    assert worth.get(Change.ONE_PIECE, -1.0) < 0


@pytest.mark.parametrize("case", CASES)
@pytest.mark.parametrize("pieces", [1, 12])
def test_unknowns_one_at_a_time_explain_the_span(told: dict, case: str, pieces: int) -> None:
    """Squares of what each unknown does alone add up to the ensemble's own span of ln(time).

    A quarter is left for what unknowns do together, and for the percentiles of 120 members.
    """
    _, each, found = told[case, pieces]
    alone = [log(1 + s.later / found.slowest) - log(1 - s.sooner / found.slowest) for s in found.spreadings]
    together = log(each.minutes.p90 / each.minutes.p10)
    assert sum(a * a for a in alone) ** 0.5 == pytest.approx(together, rel=0.25)
    assert sum(s.share for s in found.spreadings) == pytest.approx(1.0)
    assert found.spreadings[0].unknown is Unknown.PIT_HEAT


def test_a_house_s_own_cooks_narrow_what_is_uncertain() -> None:
    """Told what past cooks taught, the unknowns still explain the span, though they go against each other.

    A quick pit and a thick piece look alike from a time alone: only what they do together is known here.
    """
    blind = cook_of("brisket")
    known = Known(("h", "radius"), (0.0, 0.0), ((0.55, 0.4), (0.4, 0.55)))
    cook = replace(blind, pit=replace(blind.pit, known=known))
    before, after = estimate([blind, cook], members=400, curves=True)
    found = account(cook, after)
    alone = [log(1 + s.later / found.slowest) - log(1 - s.sooner / found.slowest) for s in found.spreadings]
    together = log(after.minutes.p90 / after.minutes.p10)
    assert together < log(before.minutes.p90 / before.minutes.p10)
    assert sum(a * a for a in alone) ** 0.5 == pytest.approx(together, rel=0.25)


def test_knowing_the_pit_and_reading_both_narrow(told: dict) -> None:
    """A known pit gives a narrower span than an unknown one, and further readings a narrower one still."""
    for _, each, found in told.values():
        wide = each.minutes.p90 - each.minutes.p10
        assert found.known_pit.p90 - found.known_pit.p10 < wide
        widths = [n.span.p90 - n.span.p10 for n in found.narrowed]
        assert widths[-1] < widths[0] < wide


def test_hours_by_weight_overstate_large_and_understate_small(told: dict) -> None:
    """A rule by weight that fits the usual piece is too long for the heaviest, too short for the lightest."""
    for case in CASES:
        _, _, found = told[case, 1]
        assert found.rule is not None
        light, usual, heavy = found.rule.weights
        assert light.by_rule < light.here
        assert usual.by_rule == pytest.approx(usual.here)
        assert heavy.by_rule > heavy.here


def test_a_rule_by_weight_is_told_for_a_cut_of_the_house_too() -> None:
    """A cut no library knows has no practice hours, and its account says the rest."""
    cook = cook_of("turkey-breast")
    cook = replace(cook, cut=replace(cook.cut, id="house-special", name="house special"))
    found = account(cook, estimate([cook], members=60, curves=True)[0])
    assert found.rule is not None
    assert found.rule.practice is None


def test_the_wrap_it_has_is_told_against_none() -> None:
    """A cook in foil is told what leaving it open or taking paper would do, not foil."""
    cook = cook_of("pork-shoulder")
    assert cook.cut.wrap is not None
    cook = replace(cook, wrap=Wrap(WrapMaterial.FOIL, 71.0, cook.cut.wrap.work))
    changes = {w.change for w in account(cook, estimate([cook], members=60, curves=True)[0]).worths}
    assert {Change.OPEN, Change.PAPER} <= changes
    assert Change.FOIL not in changes


def test_words_come_in_the_house_s_units(told: dict) -> None:
    """Steps are round in the units the house reads: 10 °C and kg, or 25 °F and pounds."""
    cook, each, _ = told["brisket", 12]
    pounds = Display(mass="lb", temperature="degF")
    found = account(cook, each, hotter_k=hotter_k(pounds), heavier_kg=heavier_kg(cook, pounds))
    said = [cell.text for table in tables(found, cook, pounds) for row in table.rows for cell in row.cells]
    assert any(text.startswith("a pit 25° hotter: 269 °F instead of 244 °F") for text in said)
    assert "each piece 1 lb heavier" in said
    assert not any("°C" in text or " kg" in text or "W/m²K" in text for text in said)
    assert any(text.startswith("how hard the pit heats the meat (") and " % harder)" in text for text in said)


def test_why_is_printed_after_the_answer() -> None:
    """`--why` adds the account under the usual answer."""
    result = CliRunner().invoke(command, ["chicken-half", "--members", "60", "--why"])
    assert result.exit_code == 0
    for title in (
        "Where the time goes",
        "Where the heat goes",
        "What each thing is worth",
        "Not in the sums",
    ):
        assert title in result.output
    assert max(len(line) for line in result.output.splitlines()) <= 80


def test_why_is_a_key_of_the_document_only_when_asked() -> None:
    """With `--json` the account is the key `why`, alike each time; without `--why` there is none."""
    asked = ["chicken-half", "--members", "60", "--json"]
    plain = json.loads(CliRunner().invoke(command, asked).output)
    whys = [json.loads(CliRunner().invoke(command, [*asked, "--why"]).output)["why"] for _ in range(2)]
    assert "why" not in plain
    assert whys[0] == whys[1]
    assert whys[0]["middle_minutes"] == pytest.approx(
        sum(stretch["minutes"] for stretch in whys[0]["stretches"]), abs=3.0
    )
