"""Facts of the fixture's Saturday made by hand, without a ledger."""

from dataclasses import replace
from datetime import datetime

from board.ledger.state import LoadStage, LoadState
from board.planning.plan import Plan
from board.views.facts import Facts
from tests.app.house_fixture import DAY, at, house, plan, sunday

NOW = at("05:42")


def facts(now: datetime = NOW, **changes: object) -> Facts:
    """The house with Saturday and Sunday committed and nothing marked, but for what is changed."""
    plans = {DAY: plan(), sunday().day: sunday()}
    return replace(Facts(house(), now, plans), **changes)  # type: ignore[arg-type]


def state(load: str, stage: LoadStage, **times: object) -> LoadState:
    """A load of Saturday at a stage."""
    portions = next(planned.portions for planned in plan().loads if planned.id == load)
    blank = LoadState(load, DAY, stage, None, None, None, None, portions, None, None)
    return replace(blank, **times)  # type: ignore[arg-type]


def standing(*states: LoadState) -> dict[tuple[object, str], LoadState]:
    """Load states by their key."""
    return {(one.day, one.id): one for one in states}


def planned(load: str, of: Plan | None = None) -> object:
    """A planned load by its id."""
    return next(one for one in (of or plan()).loads if one.id == load)
