"""The ledger as docs/ledger.md tells it, in plain lists: what it takes, what it refuses, what stands then.

Written from the page and from nothing of board/ledger/: every state is looked up anew in the whole record.
Times are whole minutes.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

STAGES = ("prepped", "on", "wrapped", "pulled", "resting", "holding", "served", "lost")
OFF = ("pulled", "resting", "holding")
AFTER = {"wrapped": "on", "pulled": "on", "resting": "pulled", "holding": "pulled", "served": "pulled"}
PORTIONS = 96  # of each load, as the plans of the test have it
COLDEST_C, HOTTEST_C = -40.0, 400.0
NEVER_TAKEN_BACK = ("plan", "undo", "restored")
OF_A_TIME = ("load", "light", "out", "reading", "note", "sale", "sold out")


class RefusedError(Exception):
    """The page says that this cannot be."""


@dataclass
class Line:
    """One line of the record."""

    seq: int
    at: int
    who: str
    kind: str
    about: str = ""
    undoes: int | None = None
    says: dict[str, Any] = field(default_factory=dict)


@dataclass
class Load:
    """A load as it stands."""

    planned_at: int
    dropped: bool = False
    left: int = PORTIONS
    times: dict[str, int] = field(default_factory=dict)

    @property
    def stage(self) -> str:
        """The last of its stages."""
        return next((stage for stage in reversed(STAGES) if stage in self.times), "planned")

    @property
    def is_gone(self) -> bool:
        """Planned no more and never begun."""
        return self.dropped and not self.times


class PlainLedger:
    """The record, and every question answered from all of it."""

    def __init__(self) -> None:
        self.lines: list[Line] = []

    # what stands

    def standing(self, *kinds: str) -> list[Line]:
        """The lines of some kinds that nobody took back."""
        gone = {line.undoes for line in self.lines}
        return [line for line in self.lines if line.kind in kinds and line.seq not in gone]

    def at(self, line: Line, but: int = 0) -> int:
        """When a line counts, by the last correction of its time that stands, but for one."""
        right = [c.says["at"] for c in self._corrections(line) if "at" in c.says and c.seq != but]
        return right[-1] if right else line.at

    def load(self, name: str) -> Load | None:
        """A load, from the first line on."""
        load: Load | None = None
        for line in self.standing("plan", "load", "sale"):
            if line.kind == "plan" and name in line.says["loads"]:
                if load is None or not load.times:
                    load = Load(line.says["at"])
                load.dropped = False
            elif load is None:
                continue
            elif line.kind == "plan":
                load.dropped = True
            elif line.kind == "sale":
                load.left = max(0, load.left - line.says["from"].get(name, 0))
            elif line.about == name:
                load.times[line.says["stage"]] = self.at(line)
                given = line.says["portions"]
                load.left = 0 if load.stage in ("served", "lost") else load.left if given is None else given
        return load

    def loads(self) -> dict[str, Load]:
        """All loads that are planned or begun."""
        named = {name for line in self.standing("plan") for name in line.says["loads"]}
        found = {name: self.load(name) for name in named}
        return {name: load for name, load in found.items() if load and not load.is_gone}

    def readings(self) -> dict[int, tuple[Any, ...]]:
        """Each reading by its number: what, when, how much, first written as what, corrected by which."""
        return {line.seq: self._reading(line) for line in self.standing("reading")}

    def _reading(self, line: Line) -> tuple[Any, ...]:
        right = self._corrections(line)
        degrees = [c.says["celsius"] for c in right if "celsius" in c.says]
        written = line.says["celsius"]
        now, first = (degrees[-1], written) if degrees else (written, None)
        return line.about, self.at(line), now, first, right[-1].seq if right else None

    def promised(self) -> int | None:
        """What was promised last."""
        return next((line.says["portions"] for line in reversed(self.standing("promise"))), None)

    def sold(self) -> tuple[int, int | None] | None:
        """How many were sold, and when they ran out; None where nothing was said of it."""
        lines = self.standing("sale", "sold out")
        out = [self.at(line) for line in lines if line.kind == "sold out"]
        total = sum(line.says["portions"] for line in lines if line.kind == "sale")
        return (total, out[-1] if out else None) if lines else None

    def fire(self) -> tuple[int | None, float | None] | None:
        """Lit since when and asked for what; None for a pit that never was lit."""
        lit: tuple[int | None, float | None] | None = None
        for line in self.standing("light", "out"):
            if line.kind == "out":
                lit = (None, None)
            else:
                burning = lit[0] if lit and not line.says["afresh"] else None
                lit = (self.at(line) if burning is None else burning, line.says["celsius"])
        return lit

    # what is done; each returns whether a line was written, or refuses

    def commit(self, who: str, when: int, loads: tuple[str, ...], planned_at: int) -> bool:
        """Plan some loads in place of those before."""
        return self._write(when, who, "plan", loads=loads, at=planned_at)

    def mark(self, who: str, at: int, name: str, stage: str, portions: int | None) -> bool:
        """Mark a stage of a load; one that is marked already stays as it is."""
        load = self._known(name)
        if stage in load.times:
            return False
        self._in_turn(load.times, stage, at)
        return self._write(at, who, "load", name, stage=stage, portions=portions)

    def read(self, who: str, at: int, name: str, celsius: float) -> bool:
        """Take a temperature of a load, or of the walk-in."""
        if name != "walk-in":
            self._known(name)
        self._refuse(not COLDEST_C <= celsius <= HOTTEST_C)
        return self._write(at, who, "reading", name, celsius=celsius)

    def promise(self, who: str, at: int, portions: int) -> bool:
        """Promise so many."""
        return portions != self.promised() and self._write(at, who, "promise", portions=portions)

    def sell(self, who: str, at: int, portions: int) -> bool:
        """Sell some, of loads off the pit by then before others, those planned now first, then the oldest."""
        own = self.standing("plan")[-1].says["loads"]
        off = {name: load for name, load in self.loads().items() if load.stage in OFF and load.left}

        def turn(name: str) -> tuple[Any, ...]:
            pulled = off[name].times["pulled"]
            return pulled > at, name not in own, pulled, name

        taken: dict[str, int] = {}
        for name in sorted(off, key=turn):
            taken[name] = min(off[name].left, portions - sum(taken.values()))
        taken = {name: n for name, n in taken.items() if n}
        return self._write(at, who, "sale", portions=portions, **{"from": taken})

    def sell_out(self, who: str, at: int) -> bool:
        """Say that nothing is left."""
        sold = self.sold()
        return (sold is None or sold[1] is None) and self._write(at, who, "sold out")

    def light(self, who: str, at: int, celsius: float | None) -> bool:
        """Light a pit, ask it for another temperature, or let it go out."""
        fire = self.fire()
        if celsius is None:
            self._refuse(fire is None)
            return fire != (None, None) and self._write(at, who, "out")
        is_lit = fire is not None and fire[0] is not None
        if is_lit and fire is not None and fire[1] == celsius:
            return False
        return self._write(at, who, "light", celsius=celsius, afresh=not is_lit)

    def note(self, who: str, at: int) -> bool:
        """Write a note."""
        return self._write(at, who, "note")

    def undo(self, who: str, at: int, seq: int | None) -> bool:
        """Take back a line, or one's last; nothing that a later mark rests on, and no undo or plan."""
        own = [line for line in self.lines if line.who == who and self._can_go(line)]
        line = self._line(seq) if seq else (own[-1] if own else None)
        self._refuse(line is None or not self._can_go(line))
        assert line is not None
        if line.kind == "correction":
            right = self._line(line.says["of"])
            if right and right in self.standing(right.kind) and self.at(right) != self.at(right, line.seq):
                self._possible(right, self.at(right, line.seq))
        if line.kind == "load":
            load = self.load(line.about)
            assert load is not None
            self._refuse(any(AFTER.get(stage) == line.says["stage"] for stage in load.times))
        return self._write(at, who, "undo", line.about, undoes=line.seq)

    def correct(self, who: str, at: int, seq: int, celsius: float | None, true_at: int | None) -> bool:
        """Put a reading's degrees right, or any line's time where that contradicts nothing."""
        line = self._line(seq)
        while line is not None and line.kind == "correction":
            line = self._line(line.says["of"])
        self._refuse(line is None or line not in self.standing(line.kind))
        assert line is not None
        if true_at is None:
            self._refuse(line.kind != "reading" or celsius is None)
            assert celsius is not None
            self._refuse(not COLDEST_C <= celsius <= HOTTEST_C or self.readings()[line.seq][2] == celsius)
            return self._write(at, who, "correction", line.about, of=line.seq, celsius=celsius)
        self._refuse(line.kind not in OF_A_TIME)
        self._possible(line, true_at)
        self._refuse(true_at == self.at(line))
        return self._write(at, who, "correction", line.about, of=line.seq, at=true_at)

    # what the page refuses

    def _in_turn(self, times: dict[str, int], stage: str, at: int) -> None:
        self._refuse(stage in AFTER and AFTER[stage] not in times)
        for other, then in times.items():
            is_later = STAGES.index(stage) > STAGES.index(other)
            self._refuse(other in ("served", "lost") and at >= then)
            self._refuse(at < then if is_later else at > then)

    def _possible(self, line: Line, at: int) -> None:
        """Whether a line may have happened then, given all else that stands."""
        if line.kind == "load":
            load = self.load(line.about)
            assert load is not None
            others = {stage: then for stage, then in load.times.items() if stage != line.says["stage"]}
            self._in_turn(others, line.says["stage"], at)
            sold = [self.at(sale) for sale in self.standing("sale") if line.about in sale.says["from"]]
            self._refuse(line.says["stage"] == "pulled" and any(then < at for then in sold))
        elif line.kind == "sale":
            for name in line.says["from"]:
                load = self.load(name)
                self._refuse(bool(load and "pulled" in load.times and at < load.times["pulled"]))
        elif line.kind in ("light", "out"):
            fires = [(one.seq, self.at(one)) for one in self.standing("light", "out")]
            now = self.at(line)
            self._refuse(any(seq < line.seq and at < then <= now for seq, then in fires))
            self._refuse(any(seq > line.seq and now <= then < at for seq, then in fires))

    def _known(self, name: str) -> Load:
        load = self.load(name)
        self._refuse(load is None or load.is_gone)
        assert load is not None
        return load

    def _can_go(self, line: Line) -> bool:
        return line.kind not in NEVER_TAKEN_BACK and line in self.standing(line.kind)

    def _refuse(self, wrong: bool) -> None:
        if wrong:
            raise RefusedError

    def _corrections(self, line: Line) -> list[Line]:
        return [one for one in self.standing("correction") if one.says["of"] == line.seq]

    def _line(self, seq: int) -> Line | None:
        return self.lines[seq - 1] if 0 < seq <= len(self.lines) else None

    def _write(
        self, when: int, who: str, kind: str, about: str = "", undoes: int | None = None, **says: Any
    ) -> bool:
        self.lines.append(Line(len(self.lines) + 1, when, who, kind, about, undoes, says))
        return True

    def restored(self, who: str, at: int) -> None:
        """What is written once a backup was put in place."""
        self._write(at, who, "restored")


Deed = Callable[[PlainLedger], bool]
