"""Whether a remedy may still be done: what stood around a load may have changed since it was worked out."""

from collections.abc import Callable, Mapping, Sequence
from datetime import datetime, timedelta

from board.planning.remedies import fire, meat, move
from board.planning.remedies.candidate import Candidate
from board.planning.remedies.remedy import Action, Kind
from board.planning.remedies.scene import Scene

_A_HAIR_K = 1e-6
_AN_HOUR = timedelta(hours=1)
Asked = Callable[[Scene, Action], bool]


def may_still(scene: Scene, action: Action) -> bool:
    """Whether no rule forbids an action as things stand now; its chance is not asked again."""
    allowed = _ASKED.get(action.kind)
    return allowed is None or allowed(scene, action)


def _raised(scene: Scene, action: Action) -> bool:
    steps = _setpoints(fire.raised(scene, _until(scene))[0])
    here = action.pit == scene.load.pit
    return here and bool(steps) and (action.setpoint_c or 0.0) <= max(steps) + _A_HAIR_K


def _lowered(scene: Scene, action: Action) -> bool:
    steps = _setpoints(fire.lowered(scene, scene.load.due)[0])
    here = action.pit == scene.load.pit
    return here and bool(steps) and (action.setpoint_c or 0.0) >= min(steps) - _A_HAIR_K


def _wrapped(scene: Scene, action: Action) -> bool:
    return action.pit == scene.load.pit and bool(meat.wrapped(scene)[0])


def _both(scene: Scene, action: Action) -> bool:
    return _raised(scene, action) and _wrapped(scene, action)


def _moved(scene: Scene, action: Action) -> bool:
    found = [one.action for one in move.moved(scene, _until(scene))[0]]
    return any(
        (one.pit, one.zone, one.is_unlit) == (action.pit, action.zone, action.is_unlit) for one in found
    )


def _pulled(scene: Scene, action: Action) -> bool:
    return any(one.action.core_c == action.core_c for one in meat.pulled_lower(scene)[0])


def _rested(scene: Scene, _: Action) -> bool:
    return bool(meat.rested_less(scene)[0])


def _until(scene: Scene) -> datetime:
    return max(scene.load.pull.p90, scene.now + _AN_HOUR)


def _setpoints(found: Sequence[Candidate]) -> list[float]:
    return [one.action.setpoint_c for one in found if one.action.setpoint_c is not None]


_ASKED: Mapping[Kind, Asked] = {
    Kind.RAISE: _raised,
    Kind.LOWER: _lowered,
    Kind.WRAP: _wrapped,
    Kind.RAISE_AND_WRAP: _both,
    Kind.MOVE: _moved,
    Kind.PULL_LOWER: _pulled,
    Kind.SHORTER_REST: _rested,
}
