"""The Opening view as tables: which columns stand where, and which may go when room is short."""

from board.views.opening import BatchDue, Cover, Next, Opening, Standing
from board.views.progress import Risk
from board.views.story import Happened
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone, block, first_words

RISK_TONE = {Risk.IN_TIME: Tone.GOOD, Risk.MAYBE_LATE: Tone.CARE, Risk.LATE: Tone.LATE}
_FIRST_WORDS = 22  # of a note, in a narrow list: Record has it whole
RISK_GLYPH = {Risk.IN_TIME: "", Risk.MAYBE_LATE: " ?", Risk.LATE: " ▲"}


def warnings_table(view: Opening) -> Table:
    """What must be reckoned with before anything else."""
    return Table(
        "", (Column(grow=True),), tuple(Row(says, (Cell(says, Tone.CARE),)) for says in view.warnings)
    )


def since_table(view: Opening) -> Table:
    """What happened since the last handover."""
    columns = (Column(), Column(grow=True), Column(drop=1))
    rows = tuple(_happened_row(line) for line in view.happened)
    return Table(view.since, columns, rows, view.handed, "Nothing was recorded.")


def _happened_row(line: Happened) -> Row:
    short = first_words(line.says, _FIRST_WORDS) if line.note else ""
    says = Cell(line.says, line.tone, short=short)
    return Row(line.key, (Cell(line.clock, Tone.QUIET), says, Cell(line.who, Tone.QUIET)))


def next_table(view: Opening) -> Table:
    """What to do next, by time."""
    columns = (Column(), Column(grow=True), Column(right=True, drop=1), Column(drop=2))
    return Table(
        "Do next", columns, tuple(_next_row(step) for step in view.next), "", "Nothing more is planned."
    )


def _next_row(step: Next) -> Row:
    said = Tone.PLAIN if step.tone is Tone.HEAT else step.tone
    cells = (
        Cell(step.clock, step.tone if step.tone is not Tone.PLAIN else Tone.QUIET),
        Cell(step.says, said, short=step.short),
        Cell(step.minutes, Tone.QUIET),
        Cell(step.who, Tone.QUIET),
    )
    return Row(step.key, cells)


def pits_table(view: Opening, *, short: bool = False) -> Table:
    """Where each load on the fire or at rest stands; `short` gives a late one a single line below it."""
    columns = (
        Column(),
        Column(),
        Column(drop=4),
        Column("core", right=True),
        Column(drop=1),
        Column("ready"),
        Column("likely", drop=2),
        Column("needed", drop=3),
        Column("spare"),
    )
    rows = tuple(_standing_row(load, short) for load in view.standing)
    return Table("On the pits", columns, rows, "", "No meat is on a pit or at rest.")


def _standing_row(load: Standing, short: bool) -> Row:
    heat = load.curve or ()
    blocks = "".join(block(fraction) for fraction in heat).replace(" ", "▁")
    cells = (
        Cell(load.meat, Tone.STRONG),
        Cell(load.pit, Tone.QUIET),
        Cell("" if load.stage == "on" else load.stage, Tone.QUIET),
        Cell(load.core),
        Cell(blocks or "–", Tone.HEAT if blocks else Tone.QUIET, heat),
        Cell(load.ready),
        Cell(load.span, Tone.QUIET),
        Cell(load.needed, Tone.QUIET),
        spare_cell(load),
    )
    return Row(load.key, cells, _below(load, short))


def _below(load: Standing, short: bool) -> tuple[Cell, ...]:
    """Why a load is late or doubtful, and what would help most; the help alone where room is short."""
    tone = Tone.CARE if load.risk is Risk.IN_TIME else RISK_TONE[load.risk]
    if short and load.remedy:
        return (Cell(load.remedy, Tone.GOOD),)
    word = (Cell(load.word, tone),) if load.word else ()
    return (*word, Cell(load.remedy, Tone.GOOD)) if load.remedy else word


def spare_cell(load: Standing) -> Cell:
    """The time in hand, or how late, by colour, word and glyph."""
    word = f"late {load.spare}" if load.risk is Risk.LATE else load.spare
    return Cell(word + RISK_GLYPH[load.risk], RISK_TONE[load.risk])


def batches_table(view: Opening) -> Table:
    """Batches to make, and those waiting to be used."""
    columns = (Column(), Column(right=True, drop=1), Column(grow=True))
    return Table("Batches", columns, tuple(_batch_row(b) for b in view.batches), "", "No batch is due.")


def _batch_row(batch: BatchDue) -> Row:
    name = Cell(batch.name, Tone.QUIET if batch.tone is Tone.QUIET else Tone.PLAIN)
    below = tuple(Cell(text, Tone.LATE) for text in batch.fails)
    return Row(batch.key, (name, Cell(batch.amount, Tone.QUIET), Cell(batch.says, batch.tone)), below)


def cover_table(view: Opening) -> Table:
    """What the next service needs, and what there will be."""
    columns = (Column(), Column("have", right=True), Column("need", right=True), Column())
    return Table(view.service, columns, tuple(_cover_row(c) for c in view.cover), "", "Nothing is promised.")


def _cover_row(cover: Cover) -> Row:
    words = [f"late {cover.late}"] if cover.late else []
    words += [f"short {cover.short}"] if cover.short else []
    word = Cell(f"{words[0]} ▲", Tone.LATE) if words else Cell("enough", Tone.GOOD)
    below = tuple(Cell(f"and {more}", Tone.LATE) for more in words[1:])
    cells = (Cell(cover.item), Cell(str(cover.have)), Cell(str(cover.need), Tone.QUIET), word)
    return Row(cover.item, cells, below)
