"""What the Opening view says."""

from dataclasses import replace
from datetime import timedelta

from board.ledger.state import BatchStage, BatchState, Entry, LoadStage, PitState
from board.views.facts import Facts
from board.views.opening import Cover, cover, opening
from board.views.opening_tables import cover_table, next_table, since_table
from board.views.opening_words import stands
from board.views.progress import Risk
from board.views.story import Happened
from board.views.table import body_lines
from board.views.text import Tone
from tests.app.house_fixture import DAY, at, plan, span
from tests.views.facts_fixture import NOW, facts, planned, standing, state


def entry(seq: int, clock: str, kind: str, subject: str = "", **data: object) -> Entry:
    """One entry of the night."""
    moment = at(clock)
    return Entry(seq, moment, moment, "ines", kind, subject, data)


def morning() -> Facts:
    """Two loads on, one of them late, and a pit that fell."""
    return facts(
        loads=standing(
            state("sat-brisket", LoadStage.WRAPPED, on_at=at("19:12", -1), last_core_c=91.0),
            state("sat-ham", LoadStage.ON, on_at=at("05:30")),
        ),
        pits={"north": PitState("north", at("18:00", -1), 118.0, None, None)},
        since=(
            entry(1, "01:00", "reading", "north", temperature_c=98.0),
            entry(2, "01:10", "reading", "north", temperature_c=96.0),
            entry(3, "01:22", "reading", "north", temperature_c=117.0),
            entry(4, "02:05", "load", "sat-brisket", stage="wrapped", day=DAY.isoformat()),
            entry(5, "03:00", "note", text="[bold]door\x1b[0m sticks"),
            entry(6, "05:30", "load", "sat-ham", stage="on", day=DAY.isoformat()),
        ),
    )


def test_night_is_told_in_sentences() -> None:
    """A pit's fall is one sentence with its depth and length, a mark another, a note as it was said."""
    told = {line.says: line.tone for line in opening(morning()).happened}
    assert told["North fell to 96° for 22 min"] is Tone.CARE
    assert told["the briskets were wrapped in paper"] is Tone.PLAIN
    assert told["“[bold]door [0m sticks”"] is Tone.PLAIN
    assert told["4 hams went on Little, 50 min after plan"] is Tone.CARE


def test_what_went_wrong_is_told_first() -> None:
    """Falls, notes and late loads come before what went as planned, and readings are summed up at the end."""
    says = [line.says for line in opening(morning()).happened]
    assert says[-2] == "the briskets were wrapped in paper"
    assert says[-1].startswith("3 readings")


def test_taken_back_is_not_told() -> None:
    """What was taken back is not part of the story."""
    gone = Entry(7, NOW, NOW, "ines", "note", "", {"text": "wrong"}, undone=True)
    view = opening(facts(since=(gone,)))
    assert view.happened == ()


def test_done_steps_leave_the_list() -> None:
    """A step marked, or whose load has gone on, is not to be done again."""
    left = [line.key.rpartition("/")[2] for line in opening(morning()).next]
    assert "s-load-ham" not in left
    assert "s-wrap-brisket" not in left
    assert "s-pull-ham" in left


def test_steps_come_by_time_for_all_days() -> None:
    """Steps for tomorrow stand among today's by their time, and say for when they are."""
    says = [line.says for line in opening(morning()).next]
    assert "make 18.5 kg poultry brine, for tomorrow" in says
    assert says.index("pull 12 briskets from North") < says.index("glaze 4 hams")


def test_work_after_the_rest_moves_with_a_late_load() -> None:
    """Slicing waits for the rest: it moves by as much as the load is late, else it stays as planned."""

    def slicing(pull: tuple[str, str, str]) -> str:
        view = opening(morning(), {"sat-brisket": span(*pull)})
        return next(line.clock for line in view.next if line.says == "slice 12 briskets")

    assert slicing(("06:20", "07:05", "08:10")) == "10:45"
    assert slicing(("10:00", "11:00", "12:00")) == "12:00"


def test_overdue_step_says_by_how_much() -> None:
    """A step past its time says so in words, in the late tone."""
    late = opening(facts(now=at("06:45"))).next
    glaze = next(line for line in late if "cider glaze" in line.says)
    assert (glaze.clock, glaze.says) == ("30 min late", "make 2.4 kg cider glaze")
    assert glaze.tone is Tone.LATE


def test_late_load_comes_first_with_its_reason() -> None:
    """Of the loads on the pits, the one at risk is on top and says why."""
    first = opening(morning()).standing[0]
    assert (first.meat, first.risk) == ("4 hams", Risk.LATE)
    assert "too late for 11:00; on 50 min after plan" in first.word


def test_service_cover_counts_portions() -> None:
    """Each item has what its loads bring in time, what is needed, what is short and what comes late."""
    cover = {row.item: (row.have, row.need, row.short, row.late) for row in opening(morning()).cover}
    assert cover["pork"] == (0, 80, 10, 70), "the shoulders never went on: what they give comes late"
    assert cover["brisket"] == (96, 90, 0, 0)


def test_load_late_for_lunch_is_in_time_for_dinner() -> None:
    """A load needed first at lunch and late for it still counts in full for dinner."""
    ham = state("sat-ham", LoadStage.ON, on_at=at("06:30"))
    saturday, noon = plan(), facts(loads=standing(ham))
    both = replace(planned("sat-ham"), services=("lunch", "dinner"))
    saturday = replace(saturday, loads=(both,))
    dinner = next(one for one in saturday.occasions if one.id == "dinner")
    promised = replace(dinner, promises={both.item: 24})
    row = cover(noon, saturday, promised)[0]
    assert (row.have, row.late) == (24, 0)
    lunch = next(one for one in saturday.occasions if one.id == "lunch")
    row = cover(noon, saturday, replace(lunch, promises={both.item: 24}))[0]
    assert (row.have, row.late, row.short) == (0, 24, 0)


def test_a_load_that_came_late_counts_once_it_is_there() -> None:
    """Portions pulled and rested count as had, however late they came."""
    ham = state("sat-ham", LoadStage.HOLDING, on_at=at("07:30"), pulled_at=at("11:40"), since=at("12:00"))
    row = next(r for r in opening(facts(now=at("12:30"), loads=standing(ham))).cover if r.item == "ham")
    assert (row.have, row.late) == (24, 0)


def test_cover_says_late_in_words_and_sign() -> None:
    """What comes late and what never comes are told apart, each in words with a sign."""
    table = cover_table(replace(opening(facts()), cover=(Cover("pork", 0, 80, 10, 70),)))
    assert [cell.text for cell in table.rows[0].cells] == ["pork", "0", "80", "late 70 ▲"]
    assert [cell.text for cell in table.rows[0].below] == ["and short 10"]


def test_narrow_list_says_steps_and_notes_shortly() -> None:
    """In a narrow column a step keeps what and where, and a note its first words; wide ones say all."""
    view = opening(morning())
    steps = next_table(view)
    narrow = [line.text for line in body_lines(steps, 45)]
    assert any("load 60 chicken halves, Alcove" in line for line in narrow)
    assert any("load 60 chicken halves on Alcove" in line.text for line in body_lines(steps, 70))
    note = Happened(
        "1", "05:35", "“Hams went on late, I had no help with the door”", "Ines", Tone.PLAIN, True
    )
    since = since_table(replace(view, happened=(note,)))
    assert [line.text.strip() for line in body_lines(since, 30)] == ["05:35  “Hams went on late, I…"]
    assert "door”" in body_lines(since, 60)[-1].text


def test_lost_load_leaves_a_service_short() -> None:
    """A load that was lost feeds nobody."""
    view = opening(facts(loads=standing(state("sat-ham", LoadStage.LOST))))
    assert next(row.short for row in view.cover if row.item == "ham") == 24


def test_batches_due_and_days_ahead_are_listed() -> None:
    """Batches to make stand by their time with the day they are for; those made and ready do not."""
    made = BatchState("b-rub", DAY, BatchStage.MADE, at("06:00", -1), "wren", "1218")
    names = {b.name: b.says for b in opening(facts(batches={(DAY, "b-rub"): made})).batches}
    assert names == {"cider glaze": "by 06:40 for today", "poultry brine": "by 14:00 for tomorrow"}


def test_cautions_fit_the_work_ahead() -> None:
    """Lighting a fire soon brings the cautions about ash and smoke."""
    assert any("ash" in caution.lower() for caution in opening(morning()).cautions)


def test_house_without_a_plan_has_an_opening_too() -> None:
    """Without any plan the view says that nothing is planned and counts no service."""
    empty = opening(facts(plans={}))
    assert (empty.next, empty.cover, empty.countdown) == ((), (), "no service ahead")


def test_countdown_reads_through_the_service() -> None:
    """Before a service the view counts down to it, within it tells its end."""
    assert opening(facts()).countdown == "lunch in 5 h 18"
    assert opening(facts(now=at("12:00"))).countdown == "lunch until 14:00"
    assert opening(facts(now=at("14:00") + timedelta(minutes=1))).countdown.startswith("dinner in")


def test_at_one_minute_hot_meat_comes_before_the_bench() -> None:
    """Of what falls due at once, a pull comes before a glaze, and one's own work before others'."""
    ham, glaze = (next(s for s in plan().steps if s.what == what) for what in ("load", "glaze"))
    steps = (replace(glaze, at=at("06:00")), replace(ham, at=at("06:00"), who="ines"))
    for who in ("wren", "ines", "tomas"):
        view = opening(facts(plans={DAY: replace(plan(), steps=steps)}), who=who)
        assert [line.says.split()[0] for line in view.next if line.clock == "06:00"] == ["load", "glaze"]
    alike = (replace(glaze, who="ines"), replace(glaze, id="s-another", who="wren"))
    first = opening(facts(plans={DAY: replace(plan(), steps=alike)}), who="wren").next[0]
    assert first.who == "Wren"


def test_what_is_still_to_do_is_counted_by_the_shift() -> None:
    """What falls due before the end of the shift of whoever asks is told apart from what comes later."""
    stretches = [line.stretch for line in opening(morning(), who="tomas").next]
    assert stretches[0] == "before 13:30"
    assert {"before 13:30", "later today"} >= set(stretches)


def test_own_work_alone_leaves_out_what_is_others() -> None:
    """The work of whoever asks, what is nobody's, and what is overdue stand in the list of one's own."""
    view = opening(morning(), who="wren")
    keys = {row.key for row in next_table(view, mine=True).rows}
    own = {line.key for line in view.next if line.who in ("Wren", "nobody", "")}
    overdue = {line.key for line in view.next if line.tone is Tone.LATE}
    assert overdue - own
    assert keys == own | overdue
    assert len(keys) < len(next_table(view).rows)


def test_low_screen_tells_a_service_in_a_sentence() -> None:
    """Where lines are few, lunch is first told in sentences: what is short or late, then the rest."""
    table = cover_table(
        replace(opening(facts()), cover=(Cover("pork", 0, 80, 10, 70), Cover("ham", 24, 24, 0))), low=True
    )
    told = [row.cells[0].text for row in table.rows]
    assert told[:3] == ["10 pork short ▲", "70 pork late ▲", "enough of the other 1"]
    enough = cover_table(replace(opening(facts()), cover=(Cover("ham", 24, 24, 0),)), low=True)
    assert enough.rows[0].cells[0].text == "enough of all of it"


def test_loads_on_the_pits_are_summed_up() -> None:
    """The title says how many loads stand how, in words and signs."""
    assert stands(opening(morning()).standing) == "2 loads: 1 late ▲, 1 in time"


def test_a_fire_nothing_more_goes_on_is_to_be_put_out() -> None:
    """When the last load of a lit pit is likely off, putting it out stands among what to do."""
    says = {line.says: line.clock for line in opening(morning()).next}
    brisket = next(clock for text, clock in says.items() if text == "pull 12 briskets from North")
    assert says["put out North: nothing more goes on it"] == brisket
    assert not any(text.startswith("put out Little") for text in says), "it was never lit"


def test_a_fire_that_is_lit_anew_goes_out_before() -> None:
    """A later lighting in the plan tells that the fire goes out before it; a load in between keeps it in."""
    saturday = plan()
    light = next(step for step in saturday.steps if step.what == "light")
    north = replace(light, id="again", pit="north", at=at("15:00"))
    known = replace(morning(), plans={DAY: replace(saturday, steps=(*saturday.steps, north))})
    assert any(line.says.startswith("put out North") for line in opening(known).next)
    more = replace(
        planned("sat-ham"),
        id="more",
        pit="north",
        load_at=at("09:00"),
        pull_at=span("12:00", "12:30", "13:00"),
    )
    known = replace(known, plans={DAY: replace(known.plans[DAY], loads=(*saturday.loads, more))})
    assert [line.clock for line in opening(known).next if line.says.startswith("put out North")] == ["12:30"]


def test_a_fire_lit_since_or_under_meat_that_no_plan_names_is_not_put_out() -> None:
    """A fire is done with after its own loads, not those of the one before; never with meat left on it."""

    def north(known: Facts, **changes: object) -> list[str]:
        pulled = state("sat-brisket", LoadStage.PULLED, on_at=at("19:14", -1), pulled_at=at("05:00"))
        left = replace(pulled, id="left", pit="north", stage=LoadStage.ON, dropped=True, **changes)  # type: ignore[arg-type]
        loads = {**known.loads, **standing(pulled), **(standing(left) if changes else {})}
        lines = opening(replace(known, loads=loads)).next
        return [line.clock for line in lines if line.says.startswith("put out North")]

    known = morning()
    assert len(north(known)) == 1
    assert north(known, pulled_at=None) == []
    lit = replace(known.pits["north"], lit_at=at("05:20"))
    assert north(replace(known, pits={**known.pits, "north": lit})) == []
