"""A table as data, and its laying out in a width: columns aligned, sentences wrapped, nothing overlapping."""

from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass, replace

from board.views.text import Cell, Tone, padded, width_of, wrapped

GAP = 2
_LEAST_SENTENCE = 24
_NARROW = 36  # a sentence in fewer columns is said in short where it has a short form


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its heading, its side, and how soon it may go when room is short.

    `drop` 0 stays always; higher numbers go first. `grow` marks a sentence that wraps when narrow, `cut` one
    that then ends in an ellipsis, once it has no more than so many columns left.
    Of an `alike` column all cells are said in short where one must be, as days are said one way down a list.
    `note` says where its figures come from (views/data/notes.toml), where the heading alone does not.
    """

    title: str = ""
    right: bool = False
    drop: int = 0
    grow: bool = False
    cut: int = 0
    alike: bool = False
    note: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """One row: a key to act on, a cell for each column, and sentences to stand under it.

    `group` is what rows that do not fit are counted by: `before 08:00`, `in time`.
    """

    key: str
    cells: tuple[Cell, ...]
    below: tuple[Cell, ...] = ()
    group: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """A titled list of rows; `aside` is said beside the title, `empty` when there is no row."""

    title: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    aside: str = ""
    empty: str = ""


@dataclass(frozen=True, slots=True)
class Line:
    """One laid-out line: cells already padded, and the index of the row it belongs to."""

    cells: tuple[Cell, ...]
    row: int | None = None

    @property
    def text(self) -> str:
        """The line as plain text."""
        return "".join(cell.text for cell in self.cells)


def head_line(table: Table, width: int) -> Line:
    """The title with its aside, and the headings over their columns where these leave room."""
    kept, widths = fit(table, width)
    head = Cell(table.title, Tone.HEAD)
    aside = f"  {table.aside}" if table.aside else ""
    if width_of(table.title + aside) > width:
        aside = _whole_parts(aside, width - width_of(table.title))
    if not any(table.columns[i].title for i in kept):
        return _cut((head, Cell(aside, Tone.QUIET)), width)
    heads = _row_cells(table, kept, widths, tuple(Cell(c.title, Tone.QUIET) for c in table.columns))
    titles = "".join(cell.text for cell in heads)
    used = width_of(table.title + aside)
    free = len(titles) - len(titles.lstrip())
    if used + 1 <= free or not table.title:
        return _cut((head, Cell(aside, Tone.QUIET), Cell(titles[used:], Tone.QUIET)), width)
    return _headings_after(table, kept, widths, head, width)


def _whole_parts(aside: str, width: int) -> str:
    """As many parts of what is said beside a title as there is room for: none is cut."""
    parts = aside.split(", ")
    while parts and width_of(", ".join(parts)) + 1 > width:
        parts.pop()
    return f"{', '.join(parts)}…" if parts else ""


def _headings_after(table: Table, kept: Sequence[int], widths: Sequence[int], head: Cell, width: int) -> Line:
    """The title over the first columns, then each heading that starts clear of it."""
    line, at = head.text, 0
    for place, index in enumerate(kept):
        title = padded(table.columns[index].title, widths[place], right=table.columns[index].right)
        start = at + width_of(title) - width_of(title.lstrip())
        if title.strip() and start >= width_of(line) + 1:
            line = padded(line, at) + title
        at += widths[place] + GAP
    return _cut((head, Cell(line[len(head.text) :], Tone.QUIET)), width)


def body_lines(table: Table, width: int) -> list[Line]:
    """The rows as lines of exactly `width` columns, wrapped sentences on lines of their own."""
    if not table.rows:
        return [_cut((Cell(text, Tone.QUIET),), width) for text in wrapped(table.empty, width)]
    kept, widths = fit(table, width)
    table = _said_alike(table, kept, widths)
    lines: list[Line] = []
    for index, row in enumerate(table.rows):
        lines += [_cut(cells, width, index) for cells in _wrapped_row(table, kept, widths, row)]
        for cell in row.below:
            lines += [
                _cut((Cell("  ", Tone.PLAIN), Cell(text, cell.tone)), width, index)
                for text in wrapped(cell.text, width - 2)
            ]
    return lines


def fit(table: Table, width: int) -> tuple[list[int], list[int]]:
    """Which columns stay in so many terminal columns, and how wide each is."""
    kept = list(range(len(table.columns)))
    natural = [_natural(table, i) for i in kept]
    kept = [i for i in kept if natural[i]]
    while kept:
        room = width - GAP * (len(kept) - 1)
        least = [min(natural[i], _least(table.columns[i]) or natural[i]) for i in kept]
        droppable = [i for i in kept if table.columns[i].drop]
        if sum(least) <= room or not droppable:
            return kept, _widths(table, kept, natural, room)
        kept.remove(max(droppable, key=lambda i: table.columns[i].drop))
    return kept, []


def _least(column: Column) -> int:
    """The columns below which a sentence is not narrowed while others give way; 0 for what is no sentence."""
    return _LEAST_SENTENCE if column.grow else column.cut


def _natural(table: Table, index: int) -> int:
    cells = [width_of(row.cells[index].text) for row in table.rows if index < len(row.cells)]
    longest = max(cells, default=0)
    if not longest:
        return 0
    headed = index == 0 and any(column.title for column in table.columns[1:])
    return max(longest, width_of(table.title if headed else table.columns[index].title))


def _widths(table: Table, kept: Sequence[int], natural: Sequence[int], room: int) -> list[int]:
    """Natural widths, the growing columns giving way first, then the widest."""
    widths = [natural[i] for i in kept]
    least = [_least(table.columns[i]) for i in kept]
    while sum(widths) > room:
        candidates = [p for p, low in enumerate(least) if low and widths[p] > low] or range(len(widths))
        widest = max(candidates, key=lambda p: widths[p])
        if widths[widest] <= 1:
            break
        widths[widest] -= 1
    return widths


def _said_alike(table: Table, kept: Sequence[int], widths: Sequence[int]) -> Table:
    """The table with those columns all in short that must be alike and in which one cell has no room."""
    narrow = {
        i
        for i, width in zip(kept, widths, strict=True)
        if table.columns[i].alike and any(width_of(row.cells[i].text) > width for row in table.rows)
    }
    if not narrow:
        return table
    rows = (replace(row, cells=tuple(_in_short(row.cells, narrow))) for row in table.rows)
    return replace(table, rows=tuple(rows))


def _in_short(cells: Sequence[Cell], which: Container[int]) -> Iterator[Cell]:
    for i, cell in enumerate(cells):
        yield replace(cell, text=cell.short) if i in which and cell.short else cell


def _wrapped_row(
    table: Table, kept: Sequence[int], widths: Sequence[int], row: Row
) -> list[tuple[Cell, ...]]:
    texts = {
        place: wrapped(_said(row.cells[i], widths[place]), widths[place])
        for place, i in enumerate(kept)
        if table.columns[i].grow and width_of(row.cells[i].text) > widths[place]
    }
    depth = max((len(parts) for parts in texts.values()), default=1)
    lines = []
    for level in range(depth):
        cells = list(row.cells)
        for place, i in enumerate(kept):
            if place in texts:
                parts = texts[place]
                cells[i] = Cell(parts[level] if level < len(parts) else "", cells[i].tone)
            elif level:
                cells[i] = Cell("")
        lines.append(_row_cells(table, kept, widths, tuple(cells)))
    return lines


def _said(cell: Cell, width: int) -> str:
    """The whole text, or its short form in a narrow column."""
    return cell.short if cell.short and width < _NARROW else cell.text


def _row_cells(
    table: Table, kept: Sequence[int], widths: Sequence[int], cells: tuple[Cell, ...]
) -> tuple[Cell, ...]:
    laid: list[Cell] = []
    for place, i in enumerate(kept):
        cell = cells[i]
        if place:
            laid.append(Cell(" " * GAP))
        said = cell.short if cell.short and width_of(cell.text) > widths[place] else cell.text
        text = padded(said, widths[place], right=table.columns[i].right)
        heat = cell.heat if len(cell.heat) == len(text.rstrip()) else ()
        laid.append(Cell(text, cell.tone, heat))
    return tuple(laid)


def _cut(cells: Sequence[Cell], width: int, row: int | None = None) -> Line:
    """The cells filled or cut to exactly `width` columns."""
    laid: list[Cell] = []
    left = width
    for cell in cells:
        size = width_of(cell.text)
        if size > left:
            laid.append(Cell(padded(cell.text, left), cell.tone))
            return Line(tuple(laid), row)
        laid.append(cell)
        left -= size
    if left:
        laid.append(Cell(" " * left))
    return Line(tuple(laid), row)


def cut_short(line: Line) -> Line:
    """The line with an ellipsis after its last words: its sentence goes on, unseen."""
    cells = list(line.cells)
    last = max((i for i, cell in enumerate(cells) if cell.text.strip()), default=None)
    if last is not None:
        cell = cells[last]
        words = padded(cell.text.rstrip(), min(width_of(cell.text.rstrip()), width_of(cell.text) - 1)).rstrip(
            "…"
        )
        cells[last] = Cell(padded(f"{words}…", width_of(cell.text)), cell.tone)
    return Line(tuple(cells), line.row)


def left_over(rows: Sequence[Row]) -> str:
    """How many rows do not fit, by their groups: `… 9 more before 08:00, 4 later today`."""
    counts: dict[str, int] = {}
    for row in rows:
        counts[row.group] = counts.get(row.group, 0) + 1
    (first, number), *others = counts.items()
    return ", ".join([f"… {number} more {first}".rstrip(), *(f"{count} {group}" for group, count in others)])


def beside(line: Line, words: str, width: int) -> Line | None:
    """A line with words at its right end; None where they would not stand clear of it."""
    said = line.text.rstrip()
    free = width - width_of(said) - width_of(words)
    if free < GAP:
        return None
    cells, left = [], width_of(said)
    for cell in line.cells:
        text = padded(cell.text, min(width_of(cell.text), left)) if left else ""
        left -= width_of(text)
        cells.append(Cell(text, cell.tone, cell.heat if text == cell.text else ()))
    return Line((*cells, Cell(" " * free), Cell(words, Tone.QUIET)), line.row)


def share(room: int, wants: Sequence[int], least: Sequence[int]) -> list[int]:
    """Rows for each of several lists in a limited room: what is furthest over its least gives way first."""
    given = list(wants)
    while sum(given) > room:
        over = [have - low for have, low in zip(given, least, strict=True)]
        if max(over) <= 0:
            return given
        given[over.index(max(over))] -= 1
    return given
