"""The Opening view as tables: which columns stand where, and which may go when room is short."""

from board.views.do_next import Next
from board.views.guidance import Key
from board.views.opening import BatchDue, Cover, Opening, Standing
from board.views.opening_words import covered, stands, used_when
from board.views.progress import Risk
from board.views.story import Happened
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone, block, first_words

RISK_TONE = {Risk.IN_TIME: Tone.GOOD, Risk.MAYBE_LATE: Tone.CARE, Risk.LATE: Tone.LATE}
_CUT = 38  # columns that a thing to do keeps in a single line, before its minutes go
_FIRST_WORDS = 22  # of a note, in a narrow list: Record has it whole
_GROUP = {Risk.IN_TIME: "in time", Risk.MAYBE_LATE: "may be late", Risk.LATE: "late"}
RISK_GLYPH = {Risk.IN_TIME: "", Risk.MAYBE_LATE: " ?", Risk.LATE: " ▲"}


def since_table(view: Opening, *, low: bool = False) -> Table:
    """What happened since whoever asks was last there; `low` gives each a single line."""
    says = Column(cut=_CUT, note="told") if low else Column(grow=True, note="told")
    columns = (Column(note="told-at"), says, Column(drop=0 if low else 1))
    rows = tuple(_happened_row(line, low=low) for line in view.happened)
    return Table(view.since, columns, rows, view.handed, "Nothing was recorded.")


def _happened_row(line: Happened, *, low: bool) -> Row:
    short = first_words(line.says, _FIRST_WORDS) if line.note and not low else ""
    says = Cell(line.says, line.tone, short=short)
    return Row(line.key, (Cell(line.clock, Tone.QUIET), says, Cell(line.who, Tone.QUIET)))


def next_table(
    view: Opening, aside: str = "", *, mine: bool = False, low: bool = False, key: Key | None = None
) -> Table:
    """What to do next, by time; `mine` leaves out what is others', `low` says each on a single line.

    `key` is for where keys are at hand: an empty list then says how to see more.
    """
    says = Column(cut=_CUT, note="step-says") if low else Column(grow=True, note="step-says")
    minutes = Column(right=True, drop=2 if low else 1, note="step-minutes")
    columns = (Column(note="step-time"), says, minutes, Column(drop=1 if low else 2))
    rows = tuple(_next_row(step, low=low) for step in view.next if step.mine or not mine)
    others = f"; {key('mine')} shows what others do" if key else ""
    empty = f"Nothing more is planned{f' for you{others}' if mine and view.next else ''}."
    return Table("Do next", columns, rows, aside, empty)


def _next_row(step: Next, *, low: bool) -> Row:
    said = Tone.PLAIN if step.tone is Tone.HEAT else step.tone
    cells = (
        Cell(step.clock, step.tone if step.tone is not Tone.PLAIN else Tone.QUIET),
        Cell(step.short if low else step.says, said, short=step.short),
        Cell(step.minutes, Tone.QUIET),
        Cell(step.who, Tone.QUIET),
    )
    return Row(step.key, cells, group=step.stretch)


def pits_table(view: Opening, *, low: bool = False) -> Table:
    """Where each load on the fire or at rest stands; `low` leaves out headings, curve and what is fine."""
    columns = (
        Column(note="pieces"),
        Column(cut=6 if low else 0),
        Column(drop=4),
        Column("" if low else "core", right=True, note="core"),
        Column(drop=1, note="heat-curve"),
        Column("" if low else "ready", note="ready"),
        Column("" if low else "likely", drop=2, note="likely"),
        Column("" if low else "needed", drop=3, note="needed"),
        Column("" if low else "spare", note="spare"),
    )
    rows = tuple(_standing_row(load, low=low) for load in view.standing)
    return Table("On the pits", columns, rows, stands(view.standing), "No meat is on a pit or at rest.")


def _standing_row(load: Standing, *, low: bool) -> Row:
    heat = () if low else load.curve
    blocks = "".join(block(fraction) for fraction in heat).replace(" ", "▁")
    cells = (
        Cell(load.meat, Tone.STRONG),
        Cell(load.pit, Tone.QUIET),
        Cell("" if load.stage == "on" or low else load.stage, Tone.QUIET),
        Cell(load.core),
        Cell("" if low else blocks or "–", Tone.HEAT if blocks else Tone.QUIET, heat),
        Cell(f"ready {load.ready}" if low else load.ready),
        Cell("" if low else load.span, Tone.QUIET),
        Cell("" if low else load.needed, Tone.QUIET),
        spare_cell(load, word=" to spare" if low else ""),
    )
    return Row(load.key, cells, _below(load, short=low), _GROUP[load.risk])


def _below(load: Standing, *, short: bool) -> tuple[Cell, ...]:
    """Why a load is late or doubtful, and what would help most; the help alone where room is short."""
    tone = Tone.CARE if load.risk is Risk.IN_TIME else RISK_TONE[load.risk]
    if short and load.remedy:
        return (Cell(load.remedy, Tone.GOOD),)
    word = (Cell(load.word, tone),) if load.word else ()
    return (*word, Cell(load.remedy, Tone.GOOD)) if load.remedy else word


def spare_cell(load: Standing, word: str = "") -> Cell:
    """The time in hand, or how late, by colour, word and glyph; `word` goes with a time that is enough.

    Where it may not be enough and a word is wanted, that is what is said.
    """
    short = f"late {load.spare}" if load.risk is Risk.LATE else load.spare
    maybe = "may be late" if load.risk is Risk.MAYBE_LATE and word else f"{short}{word}"
    whole = short if load.risk is Risk.LATE else maybe
    glyph = RISK_GLYPH[load.risk]
    return Cell(whole + glyph, RISK_TONE[load.risk], short=short + glyph)


def batches_table(view: Opening, *, low: bool = False) -> Table:
    """Batches to make, and those waiting to be used, the soonest first; `low` says each on a single line."""
    columns = (Column(), Column(right=True, drop=1, note="amount"), Column(grow=not low, note="batch-says"))
    rows = tuple(_batch_row(batch, low=low) for batch in view.batches)
    return Table("Batches", columns, rows, used_when(view.batches) if low else "", "No batch is due.")


def _batch_row(batch: BatchDue, *, low: bool) -> Row:
    name = Cell(batch.name, Tone.QUIET if batch.tone is Tone.QUIET else Tone.PLAIN)
    below = tuple(Cell(text, Tone.LATE) for text in batch.fails)
    amount = "" if low else batch.amount
    says = batch.short if low else batch.says
    cells = (name, Cell(amount, Tone.QUIET), Cell(says, batch.tone))
    return Row(batch.key, cells, below, f"for {batch.day}")


def cover_table(view: Opening, *, low: bool = False) -> Table:
    """What the next service needs, and what there will be; `low` tells it in a sentence first."""
    columns: tuple[Column, ...] = (
        Column(),
        Column("have", right=True),
        Column("need", right=True),
        Column(note="cover-word"),
    )
    rows: tuple[Row, ...] = tuple(_cover_row(c) for c in view.cover)
    if low:
        calm = sorted(view.cover, key=lambda one: bool(one.late or one.short))
        told = [Row(cell.text, (cell,)) for cell in covered(view.cover)]
        columns, rows = (Column(note="have"),), (*told, *map(_cover_line, calm))
    return Table(view.service, columns, rows, "", "Nothing is promised.")


def _cover_row(cover: Cover) -> Row:
    words = _cover_words(cover)
    word = Cell(f"{words[0]} ▲", Tone.LATE) if words else Cell("enough", Tone.GOOD)
    word = Cell("sold out", Tone.QUIET) if cover.sold_out else word
    below = tuple(Cell(f"and {more}", Tone.LATE) for more in words[1:])
    cells = (Cell(cover.item), Cell(str(cover.have)), Cell(str(cover.need), Tone.QUIET), word)
    return Row(cover.item, cells, below)


def _cover_line(cover: Cover) -> Row:
    """An item in one sentence: `ham: 24 of 26, short 2 ▲`."""
    words = _cover_words(cover)
    enough = "sold out" if cover.sold_out else "enough"
    says = f"{cover.item}: {cover.have} of {cover.need}, {' and '.join(words) + ' ▲' if words else enough}"
    return Row(f"{cover.item} by itself", (Cell(says, Tone.LATE if words else Tone.PLAIN),), group="items")


def _cover_words(cover: Cover) -> list[str]:
    words = [f"late {cover.late}"] if cover.late else []
    return [*words, f"short {cover.short}"] if cover.short else words
