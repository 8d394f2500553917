"""What a probe check shows: how far off the probe is, and whether it may be relied on."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from board.house.degrees import in_one_scale
from board.house.model import House
from board.ledger.state import Entry, ProbeWay
from board.safety.calibration import ProbeCheck, checked_boiling, checked_ice
from board.safety.verdict import Answer
from board.views.facts import Facts


def judged(house: House, check: Mapping[str, Any]) -> ProbeCheck:
    """A probe check of the record, judged at the altitude it was made at."""
    celsius = float(check["temperature_c"])
    if check["way"] == ProbeWay.ICE:
        found = checked_ice(celsius, place=house.jurisdiction)
    else:
        found = checked_boiling(celsius, float(check["altitude_m"]), place=house.jurisdiction)
    return replace(found, why=in_one_scale(found.why, house.display))


def probe_word(house: House, check: Mapping[str, Any]) -> str:
    """How far off the probe is, and whether it may be relied on, in a sentence."""
    found = judged(house, check)
    return f"{'good' if found.answer is Answer.PASS else 'too far off'}. {found.why}"


def probe_failed(house: House, check: Mapping[str, Any]) -> bool:
    """Whether a probe is too far off to be relied on."""
    return judged(house, check).answer is Answer.FAIL


def as_corrected(facts: Facts, check: Entry) -> Mapping[str, object]:
    """The data of a probe check with its degrees as they were last put right."""
    right = facts.corrected.get(check.seq)
    return {**check.data, **({"temperature_c": right.data["temperature_c"]} if right else {})}
