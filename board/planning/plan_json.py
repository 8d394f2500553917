"""A plan as the JSON document other programs rely on, and back again."""

from collections.abc import Mapping
from dataclasses import asdict
from datetime import UTC, date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from board.errors import PlanError
from board.house.spans import TimeSpan
from board.planning.plan import (
    Cooked,
    CookedBy,
    CostParts,
    Draw,
    Occasion,
    Offer,
    Plan,
    PlannedBatch,
    PlannedLoad,
    PlannedStep,
    Risk,
    Short,
)

Document = dict[str, Any]


def to_json(plan: Plan) -> Document:
    """The plan as a JSON-ready document; times are ISO 8601 with the house's offset."""
    zone = ZoneInfo(plan.zone)
    return {
        "house": plan.house,
        "day": plan.day.isoformat(),
        "zone": plan.zone,
        "result": plan.result,
        "cost": round(plan.cost, 2),
        "bound": round(plan.bound, 2),
        "loads": [_load_json(load, zone) for load in plan.loads],
        "steps": [_step_json(step, zone) for step in plan.steps],
        "batches": [_batch_json(batch, zone) for batch in plan.batches],
        "short": [_short_json(short) for short in plan.short],
        "occasions": [_occasion_json(occasion, zone) for occasion in plan.occasions],
        "why": {load: list(lines) for load, lines in plan.why.items()},
        "cost_parts": {name: round(points, 2) for name, points in asdict(plan.costs).items()},
        "cautions": list(plan.cautions),
        "chances": [_risk_json(risk, zone) for risk in plan.risks],
        "cooked": {load: _cooked_json(cooked) for load, cooked in plan.cooked.items()},
        "draws": [_draw_json(draw, zone) for draw in plan.draws],
    }


def from_json(document: Mapping[str, Any]) -> Plan:
    """Rebuild a plan from its document; figures come back as rounded there.

    Raises:
        PlanError: when the document is not a plan; names the first thing missing or wrong.
    """
    try:
        return Plan(
            house=document["house"],
            day=date.fromisoformat(document["day"]),
            zone=document["zone"],
            result=document["result"],
            cost=float(document["cost"]),
            bound=float(document["bound"]),
            loads=tuple(_load(d) for d in document["loads"]),
            steps=tuple(_step(d) for d in document["steps"]),
            batches=tuple(_batch(d) for d in document["batches"]),
            short=tuple(_short(d) for d in document["short"]),
            occasions=tuple(_occasion(d) for d in document.get("occasions", [])),
            why={load: tuple(lines) for load, lines in document.get("why", {}).items()},
            costs=CostParts(**document.get("cost_parts", {})),
            cautions=tuple(document.get("cautions", ())),
            risks=tuple(_risk(d) for d in document.get("chances", [])),
            cooked={load: _cooked(d) for load, d in document.get("cooked", {}).items()},
            draws=tuple(_draw(d) for d in document.get("draws", [])),
        )
    except KeyError as error:
        raise PlanError(f"not a plan document: {error} is missing") from error
    except (AttributeError, TypeError, ValueError, OverflowError) as error:
        raise PlanError("not a plan document") from error


def _stamp(moment: datetime, zone: ZoneInfo) -> str:
    return moment.astimezone(zone).isoformat(timespec="seconds")


def _moment(text: str) -> datetime:
    return datetime.fromisoformat(text).astimezone(UTC)


def _rounded(number: float | None, digits: int) -> float | None:
    return None if number is None else round(number, digits)


def _number(value: Any) -> float | None:
    return None if value is None else float(value)


def _span_json(span: TimeSpan, zone: ZoneInfo) -> Document:
    return {"p10": _stamp(span.p10, zone), "p50": _stamp(span.p50, zone), "p90": _stamp(span.p90, zone)}


def _span(document: Mapping[str, str]) -> TimeSpan:
    return TimeSpan(_moment(document["p10"]), _moment(document["p50"]), _moment(document["p90"]))


def _load_json(load: PlannedLoad, zone: ZoneInfo) -> Document:
    return {
        "id": load.id,
        "cut": load.cut,
        "item": load.item,
        "pieces": load.pieces,
        "mass_kg": round(load.mass_kg, 3),
        "pit": load.pit,
        "setpoint_c": round(load.setpoint_c, 1),
        "light_at": _stamp(load.light_at, zone),
        "load_at": _stamp(load.load_at, zone),
        "wrap_at": _stamp(load.wrap_at, zone) if load.wrap_at else None,
        "pull_at": _span_json(load.pull_at, zone),
        "ready_at": _span_json(load.ready_at, zone),
        "needed_at": _stamp(load.needed_at, zone),
        "services": list(load.services),
        "portions": load.portions,
        "area_m2": round(load.area_m2, 4),
        "rest_minutes": round(load.rest_minutes, 1),
        "hold_minutes_p50": round(load.hold_minutes_p50, 1),
        "spare_minutes_p50": round(load.spare_minutes_p50, 1),
        "chance": round(load.chance, 4),
        "bench": load.bench,
        "hold": load.hold,
        "zone": load.zone,
        "turn_at": _stamp(load.turn_at, zone) if load.turn_at else None,
        "then_c": _rounded(load.then_c, 1),
        "waves": [_stamp(at, zone) for at in load.waves],
        "timed_as": load.timed_as,
        "openings": load.openings,
    }


def _load(d: Mapping[str, Any]) -> PlannedLoad:
    return PlannedLoad(
        id=d["id"],
        cut=d["cut"],
        item=d["item"],
        pieces=int(d["pieces"]),
        mass_kg=float(d["mass_kg"]),
        pit=d["pit"],
        setpoint_c=float(d["setpoint_c"]),
        light_at=_moment(d["light_at"]),
        load_at=_moment(d["load_at"]),
        wrap_at=_moment(d["wrap_at"]) if d["wrap_at"] else None,
        pull_at=_span(d["pull_at"]),
        ready_at=_span(d["ready_at"]),
        needed_at=_moment(d["needed_at"]),
        services=tuple(d["services"]),
        portions=int(d["portions"]),
        area_m2=float(d["area_m2"]),
        rest_minutes=float(d["rest_minutes"]),
        hold_minutes_p50=float(d["hold_minutes_p50"]),
        spare_minutes_p50=float(d["spare_minutes_p50"]),
        chance=float(d["chance"]),
        bench=d.get("bench"),
        hold=d.get("hold"),
        zone=d.get("zone"),
        turn_at=_moment(d["turn_at"]) if d.get("turn_at") else None,
        then_c=_number(d.get("then_c")),
        waves=tuple(_moment(at) for at in d.get("waves", [])),
        timed_as=int(d.get("timed_as", 0)),
        openings=None if d.get("openings") is None else int(d["openings"]),
    )


def _risk_json(risk: Risk, zone: ZoneInfo) -> Document:
    return {
        "service": risk.service,
        "at": _stamp(risk.at, zone),
        "chance": round(risk.chance, 4),
        "wanted": risk.wanted,
        "late_portions": round(risk.late_portions, 2),
        "items": {item: round(chance, 4) for item, chance in risk.items.items()},
    }


def _risk(d: Mapping[str, Any]) -> Risk:
    return Risk(
        service=d["service"],
        at=_moment(d["at"]),
        chance=float(d["chance"]),
        wanted=float(d["wanted"]),
        late_portions=float(d["late_portions"]),
        items={item: float(chance) for item, chance in d.get("items", {}).items()},
    )


def _cooked_json(cooked: Cooked) -> Document:
    return {
        "rule": cooked.rule,
        "by": cooked.by.value,
        "at_pull": round(cooked.at_pull, 4),
        "when_served": round(cooked.when_served, 4),
        "stay_c": cooked.stay_c,
        "stay_f": cooked.stay_f,
        "stay_minutes": round(cooked.stay_minutes, 3),
        "rest_minutes": _rounded(cooked.rest_minutes, 1),
        "pull_c": cooked.pull_c,
        "pull_f": cooked.pull_f,
        "cool_pit": cooked.cool_pit,
        "source": cooked.source,
    }


def _cooked(d: Mapping[str, Any]) -> Cooked:
    return Cooked(
        rule=d["rule"],
        source=d["source"],
        by=CookedBy(d["by"]),
        at_pull=float(d["at_pull"]),
        when_served=float(d["when_served"]),
        stay_c=float(d["stay_c"]),
        stay_minutes=float(d["stay_minutes"]),
        stay_f=_number(d["stay_f"]),
        rest_minutes=_number(d["rest_minutes"]),
        pull_c=_number(d["pull_c"]),
        pull_f=_number(d["pull_f"]),
        cool_pit=bool(d["cool_pit"]),
    )


def _step_json(step: PlannedStep, zone: ZoneInfo) -> Document:
    return {
        "id": step.id,
        "at": _stamp(step.at, zone),
        "ends_at": _stamp(step.ends_at, zone),
        "what": step.what,
        "who": step.who,
        "load": step.load,
        "batch": step.batch,
        "minutes": round(step.minutes, 1),
        "pit": step.pit,
        "most_c": _rounded(step.most_c, 1),
    }


def _step(d: Mapping[str, Any]) -> PlannedStep:
    return PlannedStep(
        id=d["id"],
        at=_moment(d["at"]),
        ends_at=_moment(d["ends_at"]),
        what=d["what"],
        who=d["who"],
        load=d["load"],
        batch=d["batch"],
        minutes=float(d["minutes"]),
        pit=d.get("pit"),
        most_c=_number(d.get("most_c")),
    )


def _batch_json(batch: PlannedBatch, zone: ZoneInfo) -> Document:
    return {
        "id": batch.id,
        "recipe": batch.recipe,
        "kind": batch.kind,
        "amount_kg": round(batch.amount_kg, 3),
        "make_by": _stamp(batch.make_by, zone),
        "ready_from": _stamp(batch.ready_from, zone),
        "use_by": _stamp(batch.use_by, zone),
        "loads": list(batch.loads),
        "each_kg": [round(kg, 3) for kg in batch.each_kg],
        "vessel": batch.vessel,
        "vessels": batch.vessels,
        "container": batch.container,
        "ice_kg": round(batch.ice_kg, 3),
    }


def _batch(d: Mapping[str, Any]) -> PlannedBatch:
    return PlannedBatch(
        id=d["id"],
        recipe=d["recipe"],
        kind=d["kind"],
        amount_kg=float(d["amount_kg"]),
        make_by=_moment(d["make_by"]),
        ready_from=_moment(d["ready_from"]),
        use_by=_moment(d["use_by"]),
        loads=tuple(d["loads"]),
        each_kg=tuple(float(kg) for kg in d.get("each_kg", [])),
        vessel=d.get("vessel"),
        vessels=int(d.get("vessels", 0)),
        container=d.get("container"),
        ice_kg=float(d.get("ice_kg", 0.0)),
    )


def _draw_json(draw: Draw, zone: ZoneInfo) -> Document:
    return {
        "batch": draw.batch,
        "recipe": draw.recipe,
        "load": draw.load,
        "kg": round(draw.kg, 3),
        "ready_from": _stamp(draw.ready_from, zone),
        "use_by": _stamp(draw.use_by, zone),
    }


def _draw(d: Mapping[str, Any]) -> Draw:
    return Draw(
        batch=d["batch"],
        recipe=d["recipe"],
        load=d["load"],
        kg=float(d["kg"]),
        ready_from=_moment(d["ready_from"]),
        use_by=_moment(d["use_by"]),
    )


def _short_json(short: Short) -> Document:
    return {
        "service": short.service,
        "item": short.item,
        "portions": short.portions,
        "why": short.why,
        "cure": list(short.cure),
        "offers": [_offer_json(offer) for offer in short.offers],
    }


def _short(d: Mapping[str, Any]) -> Short:
    offers = tuple(_offer(one) for one in d.get("offers", ()))
    return Short(d["service"], d["item"], int(d["portions"]), d["why"], tuple(d["cure"]), offers)


def _offer_json(offer: Offer) -> Document:
    return {
        "says": offer.says,
        "portions": offer.portions,
        "points": offer.points,
        "promises": [list(one) for one in offer.promises],
        "due": offer.due.isoformat() if offer.due else None,
    }


def _offer(d: Mapping[str, Any]) -> Offer:
    promises = tuple((service, item, int(n)) for service, item, n in d["promises"])
    due = _moment(d["due"]) if d["due"] else None
    return Offer(d["says"], int(d["portions"]), d["points"], promises, due)


def _occasion_json(occasion: Occasion, zone: ZoneInfo) -> Document:
    return {
        "id": occasion.id,
        "name": occasion.name,
        "at": _stamp(occasion.at, zone),
        "until": _stamp(occasion.until, zone),
        "promises": dict(occasion.promises),
        "is_order": occasion.is_order,
    }


def _occasion(d: Mapping[str, Any]) -> Occasion:
    return Occasion(
        id=d["id"],
        name=d["name"],
        at=_moment(d["at"]),
        until=_moment(d["until"]),
        promises={item: int(n) for item, n in d["promises"].items()},
        is_order=bool(d["is_order"]),
    )
