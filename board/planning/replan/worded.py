"""The words of a difference between two plans: names of the house, times on its clock."""

from datetime import datetime

from board.house.calendar import local
from board.house.model import House
from board.house.spans import minutes_between
from board.house.units import format_mass, format_temperature
from board.house.wording import clock_time, count, duration, in_list, plural, short_day
from board.planning.plan import Occasion, Plan, PlannedBatch, PlannedLoad, PlannedStep

# Setpoints closer than a degree of Fahrenheit are one on a pit's dial, and one in words.
SAME_DEGREES_K = 0.6


class Worded:
    """Says what changes, in the names and on the clock of the house."""

    def __init__(self, house: House, before: Plan, after: Plan) -> None:
        self._house = house
        self._day = after.day
        self._loads = {load.id: load for load in (*before.loads, *after.loads)}
        self._batches = {batch.id: batch.recipe for batch in (*before.batches, *after.batches)}
        self._occasions: dict[str, Occasion] = {o.id: o for o in (*before.occasions, *after.occasions)}
        self._end = max((o.until for o in self._occasions.values()), default=None)

    def called(self, load: PlannedLoad) -> str:
        """A load as it is counted: `4 shoulders`."""
        return count(load.pieces, self._cut(load))

    def dropped(self, load: PlannedLoad) -> str:
        """A load that is cooked no more."""
        return f"{self.called(load)} on {self.spot(load)} at {self.when(load.load_at)} no longer"

    def added(self, load: PlannedLoad) -> str:
        """A load that was not in the plan before."""
        more = f"{load.pieces} more {self._cut(load) if load.pieces == 1 else plural(self._cut(load))}"
        return f"{more} on {self.spot(load)} at {self.when(load.load_at)}, for {self._for(load)}"

    def more(self, was: PlannedLoad, load: PlannedLoad) -> str:
        """More or fewer pieces where it stays: `6 more chicken halves on North at 08:00`."""
        by, kind = abs(load.pieces - was.pieces), "more" if load.pieces > was.pieces else "fewer"
        name = self._cut(load) if by == 1 else plural(self._cut(load))
        return f"{by} {kind} {name} on {self.spot(load)} at {self.when(load.load_at)}, {load.pieces} in all"

    def grown(self, was: PlannedLoad, load: PlannedLoad) -> str:
        """More or fewer pieces of a load that moves as well: `20 chicken halves, not 14,`."""
        return f"{self.called(load)}, not {was.pieces},"

    def goes_on(self, was: PlannedLoad, load: PlannedLoad) -> str:
        """Another pit, time or setpoint, with the old one after `not`; what stays is said once."""
        pit = (load.pit, load.zone) != (was.pit, was.zone)
        time, heat = load.load_at != was.load_at, abs(load.setpoint_c - was.setpoint_c) >= SAME_DEGREES_K
        old = [f"{self.spot(was)}"] if pit else []
        old += [f"at {self.when(was.load_at)}"] if time and pit else [self.when(was.load_at)] if time else []
        old += [f"at {self.degrees(was)}"] if heat else []
        to = f"{'goes' if load.pieces == 1 else 'go'} on {self.spot(load)} at {self.when(load.load_at)}"
        return f"{to}{f' at {self.degrees(load)}' if heat else ''}, not {' '.join(old)}"

    def late(self, load: PlannedLoad) -> str:
        """Likely later than it is needed."""
        return f"{self._is(load)} now likely {duration(-load.spare_minutes_p50)} late for {self._for(load)}"

    def in_time_again(self, load: PlannedLoad) -> str:
        """No longer late."""
        return f"{self._is(load)} now likely in time for {self._for(load)}"

    def chance(self, was: PlannedLoad, load: PlannedLoad) -> str:
        """Surer, or less sure."""
        new, old = (round(100 * chance) for chance in (load.chance, was.chance))
        return f"{self._is(load)} now in time for {self._for(load)} {new} times in 100, not {old}"

    def off(self, was: PlannedLoad, load: PlannedLoad) -> str:
        """Likely done at another time, where it stays."""
        new, old = self.when(load.pull_at.p50), self.when(was.pull_at.p50)
        return (
            f"on {self.spot(load)} likely {'comes' if load.pieces == 1 else 'come'} off at {new}, not {old}"
        )

    def serves(self, load: PlannedLoad) -> str:
        """For another occasion."""
        return f"{self._is(load)} now for {self._for(load)} at {self.when(load.needed_at)}"

    def fire_moved(self, was: PlannedStep, step: PlannedStep) -> str:
        """A fire or a change of setpoint, earlier or later: `light North 40 min later, at 22:50`."""
        by = minutes_between(was.at, step.at)
        which = "later" if by > 0 else "earlier"
        return f"{self._fire(step)} {duration(abs(by))} {which}, at {self.when(step.at)}"

    def fire_new(self, step: PlannedStep) -> str:
        """A fire that was not planned before."""
        return f"{self._fire(step)} at {self.when(step.at)}"

    def fire_gone(self, was: PlannedStep) -> str:
        """A fire that is not needed any more."""
        return f"do not {self._fire(was)} at {self.when(was.at)}"

    def fire_given(self, was: PlannedStep, step: PlannedStep) -> str:
        """A fire for another person."""
        return f"{self.fire_new(step)}: {self._person(step.who)}, not {self._person(was.who)}"

    def step_moved(self, was: PlannedStep, step: PlannedStep) -> str:
        """Work at another time."""
        return f"{self._work(step)} at {self.when(step.at)}, not {self.when(was.at)}"

    def step_given(self, was: PlannedStep, step: PlannedStep) -> str:
        """Work for another person."""
        to, instead = self._person(step.who), self._person(was.who)
        return f"{self._work(step)} at {self.when(step.at)}: {to}, not {instead}"

    def batch_new(self, batch: PlannedBatch) -> str:
        """A making that was not planned before."""
        return f"make {self._amount(batch)} by {self.when(batch.make_by)}"

    def batch_gone(self, batch: PlannedBatch) -> str:
        """A making that is not needed any more."""
        return f"do not make {self._amount(batch)} by {self.when(batch.make_by)}"

    def batch_changed(self, was: PlannedBatch, batch: PlannedBatch) -> str:
        """Another amount or another time, whichever a cook would see."""
        (amount, by), (now, _) = self.making(was), self.making(batch)
        old = [amount] if amount != now else []
        old += [f"by {self.when(by)}"] if by != batch.make_by else []
        return f"{self.batch_new(batch)}, not {' '.join(old)}"

    def making(self, batch: PlannedBatch) -> tuple[str, datetime]:
        """How much of a batch is made by when, as far as a cook weighs it."""
        return format_mass(batch.amount_kg, self._house.display), batch.make_by

    def short(self, service: str, item: str, was: int, now: int) -> str:
        """Portions lacking, more or fewer or none any more."""
        name, what = self._service(service), self._item(item)
        if not now:
            return f"{name} is no longer short of {what}"
        return f"{name} is short {now} of {what}" + (f", not {was}" if was else "")

    def served_at(self, service: str) -> datetime:
        """When a service or an order is served."""
        return self._occasions[service].at

    def spot(self, load: PlannedLoad) -> str:
        """Its pit, and its zone where it has one: `Alcove`, `South, hot end`."""
        pit = self._house.pits.get(load.pit)
        if pit is None:
            return self._pit(load.pit)
        zone = next((z.name for z in pit.zones if z.id == load.zone), None)
        return f"{pit.name}, {zone}" if zone else pit.name

    def degrees(self, load: PlannedLoad) -> str:
        """Its setpoint in the house's degrees."""
        return format_temperature(load.setpoint_c, self._house.display)

    def when(self, moment: datetime) -> str:
        """A time of day, with its date where it is not of the planned day or the night before."""
        day = local(moment, self._house).date()
        clock = clock_time(moment, self._house)
        return clock if 0 <= (self._day - day).days <= 1 else f"{clock} on {short_day(day)}"

    def _is(self, load: PlannedLoad) -> str:
        return "is" if load.pieces == 1 else "are"

    def _cut(self, load: PlannedLoad) -> str:
        cut = self._house.cuts.get(load.cut)
        return cut.name if cut else load.cut

    def _for(self, load: PlannedLoad) -> str:
        return in_list([self._service(service) for service in load.services])

    def _service(self, id: str) -> str:
        return self._occasions[id].name if id in self._occasions else id

    def _item(self, id: str) -> str:
        item, cut = self._house.items.get(id), self._house.cuts.get(id.removeprefix("whole-"))
        return item.name if item else f"whole {cut.name}" if cut else id

    def _person(self, id: str | None) -> str:
        if id is None:
            return "nobody yet"
        return self._house.people[id].name if id in self._house.people else id

    def _fire(self, step: PlannedStep) -> str:
        name = self._pit(step.pit or "")
        return f"light {name}" if step.what == "light" else f"set {name} to its next setpoint"

    def _pit(self, id: str) -> str:
        """A pit by its name; one that is gone has none any more."""
        return (
            self._house.pits[id].name if id in self._house.pits else f"a pit this house no longer has ({id})"
        )

    def _work(self, step: PlannedStep) -> str:
        load = self._loads.get(step.load or "")
        recipe = self._house.recipes.get(self._batches.get(step.batch or "", ""))
        return f"{step.what} {self.called(load) if load else recipe.name if recipe else ''}".rstrip()

    def _amount(self, batch: PlannedBatch) -> str:
        recipe = self._house.recipes.get(batch.recipe)
        name = recipe.name if recipe else batch.recipe
        return f"{format_mass(batch.amount_kg, self._house.display)} of {name}"
