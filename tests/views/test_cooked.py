"""How a planned load is cooked safe, in its account, on its page and on the sheet."""

from dataclasses import replace

import pytest

from board.planning.plan import Cooked, CookedBy
from board.planning.plan_json import from_json, to_json
from board.sheets.plan_sheet import plan_sheet
from board.views.load_page import load_page
from board.views.reference import ref
from board.views.text import Tone
from board.views.tomorrow import tomorrow
from board.views.tomorrow_tables import why_table
from tests.app.house_fixture import DAY, house, plan
from tests.views.facts_fixture import facts

LOAD = "sat-brisket"
BY_PULL = Cooked("intact-roast", "a code", CookedBy.PULL, 1.0, 1.0, 68.0, 0.3, 155.0)
BY_REST = Cooked("injected", "a code", CookedBy.REST, 0.0, 0.97, 63.0, 3.0, 145.0, rest_minutes=12.4)
NOT_MET = Cooked("poultry", "a code", CookedBy.NOT_MET, 0.0, 0.2, 74.0, 0.0, 165.0, pull_c=74.0, pull_f=165.0)


def known(cooked: Cooked):
    """Saturday's plan with that said of one load, and what is known with it."""
    with_it = replace(plan(), cooked={LOAD: cooked})
    return with_it, replace(facts(), plans={DAY: with_it})


@pytest.mark.parametrize(
    ("cooked", "place", "tone"),
    [(BY_PULL, -1, Tone.QUIET), (BY_REST, 0, Tone.CARE), (NOT_MET, 0, Tone.LATE)],
)
def test_the_account_says_it_first_where_the_pull_alone_does_not_do(cooked, place, tone):
    """What must be minded stands before the minutes, what needs nothing after them."""
    _, known_now = known(cooked)
    account = tomorrow(known_now, DAY, selected=ref(DAY, LOAD)).account
    row = why_table(account).rows[place]
    assert row.cells[0].tone is tone
    assert "is cooked" in row.cells[0].text


@pytest.mark.parametrize(("cooked", "place"), [(BY_PULL, -1), (BY_REST, 0), (NOT_MET, 0)])
def test_the_loads_page_says_it(cooked, place):
    """Among its particulars, first where it must be minded."""
    _, known_now = known(cooked)
    page = load_page(known_now, ref(DAY, LOAD))
    assert page.facts[place].head == "cooked"


def test_the_sheet_says_what_must_be_minded_and_no_more():
    """A load cooked at its pull has no line more; the others have theirs below them."""
    says = {cooked.by: plan_sheet(known(cooked)[0], house()) for cooked in (BY_PULL, BY_REST, NOT_MET)}
    assert says[CookedBy.PULL] == plan_sheet(plan(), house())
    assert "Relies on its rest: pulled at " in says[CookedBy.REST]
    assert "Not cooked safe as planned: pulled at " in says[CookedBy.NOT_MET]
    assert max(map(len, says[CookedBy.NOT_MET].splitlines())) <= 120


def test_a_plan_whose_pulls_all_do_it_says_so_once():
    """Which loads rely on their rest? None; one that does, or of which nothing is known, ends that."""
    every = replace(plan(), cooked={load.id: BY_PULL for load in plan().loads})
    one = replace(every, cooked={**every.cooked, LOAD: BY_REST})
    told = "none relies on its rest"
    assert told in tomorrow(replace(facts(), plans={DAY: every}), DAY).safe
    assert told in plan_sheet(replace(every, short=()), house())
    for other in (one, replace(every, cooked={LOAD: BY_PULL})):
        assert tomorrow(replace(facts(), plans={DAY: other}), DAY).safe == ""


def test_a_plan_without_it_says_nothing():
    """Plans stored before are read and shown as they were."""
    document = to_json(plan())
    del document["cooked"]
    again = from_json(document)
    assert again.cooked == {}
    account = tomorrow(replace(facts(), plans={DAY: again}), DAY, selected=ref(DAY, LOAD)).account
    assert not any("is cooked" in row.cells[0].text for row in why_table(account).rows)


@pytest.mark.parametrize("cooked", [BY_PULL, BY_REST, NOT_MET])
def test_it_survives_the_document(cooked):
    """What is written is read back."""
    again = from_json(to_json(known(cooked)[0])).cooked[LOAD]
    assert replace(again, at_pull=cooked.at_pull, stay_minutes=cooked.stay_minutes) == cooked
