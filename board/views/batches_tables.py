"""The Batches view as tables: the list, and the card of one."""

from board.views.batch_card import Card
from board.views.batches import Batches, BatchLine, Shown
from board.views.guidance import Key
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone


def list_table(view: Batches, key: Key | None = None) -> Table:
    """Every batch that matters now, the first due first; under a late one what fails with it.

    `key` is for where keys are at hand: an empty list then says how others are shown.
    """
    columns = (
        Column(),
        Column("amount", right=True),
        Column("for", drop=2),
        Column("make by", alike=True),
        Column("ready", drop=3, note="ready-from"),
        Column("use by", drop=1),
        Column("state", grow=True),
    )
    title = "Batches" if view.shown is Shown.WANTED else f"Batches {view.shown.value}"
    return Table(title, columns, tuple(_row(line) for line in view.lines), "", _nothing(view.shown, key))


def _nothing(shown: Shown, key: Key | None) -> str:
    others = f"; {key('batches-kind')} shows others" if key else ""
    return "No batch is planned." if shown is Shown.WANTED else f"No batch is {shown.value}{others}."


def counts_line(view: Batches) -> str:
    """How many batches stand at each stage: `3 due, 1 made, 2 ready`."""
    return ", ".join(f"{number} {stage}" for stage, number in view.counts)


def _row(line: BatchLine) -> Row:
    cells = (
        Cell(line.name, Tone.QUIET if line.tone is Tone.QUIET else Tone.STRONG),
        Cell(line.amount),
        Cell(line.day, Tone.QUIET),
        Cell(line.make_by, Tone.LATE if line.tone is Tone.LATE else Tone.PLAIN, short=line.make_by_short),
        Cell(line.ready_from, Tone.QUIET),
        Cell(line.use_by, Tone.QUIET),
        Cell(line.state, line.tone),
    )
    return Row(line.key, cells, tuple(Cell(text, Tone.LATE) for text in line.fails))


def weighing_table(card: Card) -> Table:
    """What to weigh for one batch, what is weighed of it, and what that comes to."""
    columns = (
        Column(grow=True),
        Column(right=True, note="weigh-amount"),
        Column(drop=1, note="weigh-about"),
        Column(drop=2, note="weigh-off"),
    )
    last = len(card.weighing)
    rows = tuple(
        Row(
            str(line.line),
            (
                Cell(f"✓ {line.name}" if line.grams is not None else line.name, line.tone),
                Cell(line.weighed or line.amount, Tone.QUIET if line.weighed else Tone.STRONG),
                Cell(line.about if line.grams is None else "", Tone.QUIET),
                Cell(line.says.removeprefix("✓ "), line.tone),
            ),
            (Cell(card.total, Tone.QUIET),) if line.line == last and card.total else (),
        )
        for line in card.weighing
    )
    title = card.title[:1].upper() + card.title[1:]
    return Table(title, columns, rows, "", "This recipe cannot be made so.")


def says_table(card: Card) -> Table:
    """What one batch is for, the work still to do, what waits, what it does to the meat, and what to mind."""
    done = [text for text in card.steps if text.endswith("✓")]
    says = [Cell(card.aside, Tone.QUIET)] if card.aside else []
    says += [Cell(f"mind: {text}", Tone.CARE) for text in card.warnings]
    says += [Cell(text, Tone.STRONG) for text in card.steps if text not in done]
    says += [Cell(text, Tone.LATE if text.endswith("▲") else Tone.PLAIN) for text in card.says]
    says += [Cell(f"mind: {text}", Tone.CARE) for text in card.minds]
    says += [Cell(text, Tone.QUIET) for text in done]
    return Table(
        "What it is", (Column(grow=True, note="card"),), tuple(Row(str(i), (c,)) for i, c in enumerate(says))
    )
