"""Finding anything by a few letters: loads, batches, watches, orders, people, all that was ever written."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from functools import lru_cache

from board.house.searching import has_all, words_of
from board.house.wording import short_day
from board.ledger import search as ledger_search
from board.ledger.open import Ledger
from board.ledger.state import Entry, LoadStage
from board.views import names
from board.views.days import when
from board.views.facts import Facts, all_batches, all_loads, batch_state, load_state, occasions
from board.views.happened import sentence
from board.views.reference import parts, ref
from board.views.spots import spot
from board.views.subjects import food
from board.views.text import inert
from board.views.watching import running

MOST = 12  # of each kind
MOST_WRITTEN = 40
FEWEST_LETTERS = 2  # one letter begins too many words of five years
WAS = "was-"  # before the kind of a thing that is in no near plan any more
_KINDS = {"note": "note", "handover": "handover", "watch": "watch", "order": "order", "plan": "plan"}


@dataclass(frozen=True, slots=True)
class Found:
    """One thing that was found: where it is (`VIEW:ROW`), what kind it is, its name, and words about it."""

    key: str
    kind: str
    name: str
    about: str


def near(ledger: Ledger, facts: Facts, typed: str) -> list[Found]:
    """What answers to the letters of these days, by kind; all of it where nothing is typed."""
    wanted = words_of(typed)
    things = (_loads(facts), _batches(facts), _watches(facts), _orders(facts), _people(ledger, facts))
    found = [one for kind in things for one in _meant(kind, wanted)]
    return found if wanted else [*found, *(_entry(facts, entry) for entry in reversed(facts.since))]


def far(ledger: Ledger, facts: Facts, typed: str) -> list[Found]:
    """What answers to the letters in all the record: what people wrote, loads, batches, each newest first."""
    wanted = words_of(typed)
    if not any(len(word) >= FEWEST_LETTERS for word in wanted):
        return []
    first = min((plan.day for plan in facts.plans.values()), default=facts.today)
    written = ledger_search.entries_with(ledger, typed, limit=MOST_WRITTEN)
    return [
        *(_entry(facts, entry) for entry in written),
        *_meant(_old_loads(ledger, facts, first, wanted), wanted),
        *_meant(_old_batches(ledger, facts, first, wanted), wanted),
    ]


def written_at(ledger: Ledger, key: str) -> str:
    """Where a thing that was found is now: one of long ago is the entry by which it went on or was made."""
    if not key.startswith(WAS):
        return key
    family, _, row = key.removeprefix(WAS).partition(":")
    return entry_key(ledger_search.mark_of(ledger, family, *parts(row)))


def entry_key(seq: int | None) -> str:
    """Where an entry of the record is; nowhere for none."""
    return f"record:{seq}" if seq is not None else ""


def _meant(things: Iterable[Found], wanted: tuple[str, ...]) -> list[Found]:
    """The first of some things that are meant; all of them where nothing is typed."""
    found: list[Found] = []
    for thing in things:
        if has_all(wanted, words_of(f"{thing.name} {thing.about} {thing.kind}")):
            found.append(thing)
        if wanted and len(found) == MOST:
            break
    return found


def _loads(facts: Facts) -> Iterator[Found]:
    """Loads of these days, those nearest to now first."""
    nearest = sorted(all_loads(facts), key=lambda pair: abs(pair[1].load_at - facts.now))
    for plan, load in nearest:
        stage = load_state(facts, load, plan.day).stage
        planned = "" if stage == LoadStage.PLANNED else ", planned"
        about = f"{spot(facts, load, plan.day)}, {stage.value}{planned} for {when(facts, load.load_at)}"
        yield Found(f"load:{ref(plan.day, load.id)}", "load", names.pieces(facts.house, load), about)


def _batches(facts: Facts) -> Iterator[Found]:
    for plan, batch in all_batches(facts):
        state = batch_state(facts, batch, plan.day)
        lot = f"lot {inert(state.lot)}, " if state.lot else ""
        about = f"{lot}make by {when(facts, batch.make_by)}, {state.stage.value}"
        name = names.recipe_name(facts.house, batch.recipe)
        yield Found(f"batches:{ref(plan.day, batch.id)}", "batch", name, about)


def _watches(facts: Facts) -> Iterator[Found]:
    for watch in running(facts):
        about = f"{watch.kind.value}, since {when(facts, watch.started_at)}"
        yield Found(entry_key(watch.seq), "watch", food(watch), about)


def _orders(facts: Facts) -> Iterator[Found]:
    for plan, occasion in occasions(facts):
        kind = "order" if occasion.is_order else "service"
        key = f"tomorrow:{ref(plan.day, '')}"
        yield Found(key, kind, inert(occasion.name), when(facts, occasion.at))


def _people(ledger: Ledger, facts: Facts) -> Iterator[Found]:
    for id, person in facts.house.people.items():
        last = ledger_search.last_of(ledger, id)
        about = f"last wrote {when(facts, last.at)}" if last else "wrote nothing yet"
        yield Found(entry_key(last.seq if last else None), "person", inert(person.name), about)


def _entry(facts: Facts, entry: Entry) -> Found:
    says = sentence(facts, entry) or inert(f"{entry.kind} {entry.subject}")
    back = " (taken back)" if entry.undone else ""
    about = f"{when(facts, entry.at)}, {names.person_name(facts.house, entry.who)}"
    return Found(entry_key(entry.seq), _KINDS.get(entry.kind, "record"), f"{says}{back}", about)


def _old_loads(ledger: Ledger, facts: Facts, first: date, wanted: tuple[str, ...]) -> Iterator[Found]:
    cuts = _called(facts.house.cuts, lambda id: names.cut_name(facts.house, id), wanted)
    for row in ledger_search.loads_before(ledger, first, cuts) if cuts else ():
        about = f"{names.pit_name(facts.house, row['pit'])}, for {_day(row['day'])}"
        name = names.of_cut(facts.house, row["cut"], row["pieces"])
        yield Found(f"{WAS}load:{row['day']}/{row['id']}", "load", name, about)


def _old_batches(ledger: Ledger, facts: Facts, first: date, wanted: tuple[str, ...]) -> Iterator[Found]:
    recipes = _called(facts.house.recipes, lambda id: names.recipe_name(facts.house, id), wanted)
    for row in ledger_search.batches_before(ledger, first, recipes) if recipes else ():
        about = f"lot {inert(row['lot'] or row['id'])}, for {_day(row['day'])}"
        name = names.recipe_name(facts.house, row["recipe"])
        yield Found(f"{WAS}batch:{row['day']}/{row['id']}", "batch", name, about)


def _called(ids: Iterable[str], name: Callable[[str], str], wanted: tuple[str, ...]) -> list[str]:
    """The ids of things whose name has one of the words: the others may be of their day or place."""
    return [id for id in ids if any(has_all((word,), words_of(name(id))) for word in wanted)]


@lru_cache(maxsize=4096)
def _day(text: str) -> str:
    day = date.fromisoformat(text)
    return f"{short_day(day)} {day.year}"
