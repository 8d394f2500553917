"""The account of a cook as JSON: the key `why`."""

from typing import Any

from board.commands.cook.spans import span_document
from board.cooking.account.figures import Account, RuleOfThumb


def why_document(account: Account) -> dict[str, Any]:
    """The account's figures: minutes, °C, kg of water and joules a kg of raw meat."""
    return {
        "middle_minutes": round(account.middle, 1),
        "slowest_minutes": round(account.slowest, 1),
        "stretches": [
            {
                "part": stretch.part,
                "minutes": round(stretch.minutes, 1),
                "from_c": round(stretch.from_c, 1),
                "to_c": round(stretch.to_c, 1),
                "heat_kj_kg": round(stretch.heat_j_kg / 1000, 1),
                "steam_kj_kg": round(stretch.steam_j_kg / 1000, 1),
            }
            for stretch in account.stretches
        ],
        "steamed_kg_kg": round(account.steamed_kg_kg, 4),
        "dripped_kg_kg": round(account.dripped_kg_kg, 4),
        "fat_kg_kg": round(account.fat_kg_kg, 4),
        "worth": [
            {"change": w.change, "amount": round(w.amount, 3), "minutes_later": round(w.minutes, 1)}
            for w in account.worths
        ],
        "unknown": [
            {
                "unknown": s.unknown,
                "minutes_sooner": round(s.sooner, 1),
                "minutes_later": round(s.later, 1),
                "share": round(s.share, 3),
            }
            for s in account.spreadings
        ],
        "pit_h_w_m2k": span_document(account.pit_h),
        "minutes_if_pit_known": span_document(account.known_pit),
        "narrowed": [
            {"after_minutes": n.after_minutes, "readings": n.readings, "minutes": span_document(n.span)}
            for n in account.narrowed
        ],
        "by_weight": _rule(account.rule),
    }


def _rule(rule: RuleOfThumb | None) -> dict[str, Any] | None:
    if rule is None:
        return None
    return {
        "usual_kg": rule.usual_kg,
        "practice_minutes": rule.practice and [round(end, 1) for end in rule.practice],
        "weights": [
            {"kg": w.mass_kg, "rule_minutes": round(w.by_rule, 1), "minutes": round(w.here, 1)}
            for w in rule.weights
        ],
    }
