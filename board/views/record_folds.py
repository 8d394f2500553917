"""Lines of the record told in one that opens: the sales of an item, readings taken in one go."""

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import replace

from board.views.fed_record import FED
from board.views.record_line import RecordLine
from board.views.text import inert

FOLD = "fold:"
_NAMED = 4  # readings that are named in their line


def folded(lines: Sequence[RecordLine], opened: Collection[str] = ()) -> tuple[RecordLine, ...]:
    """The lines, newest first, those that belong together in one; under an opened one its own."""
    together: dict[str, list[RecordLine]] = {}
    for line in lines:
        if line.fold:
            together.setdefault(line.fold, []).append(line)
    return tuple(_laid(lines, {key: own for key, own in together.items() if len(own) > 1}, opened))


def _laid(
    lines: Iterable[RecordLine], together: dict[str, list[RecordLine]], opened: Collection[str]
) -> Iterator[RecordLine]:
    begun = set()
    for line in lines:
        own = together.get(line.fold, [])
        if not own:
            yield line
        elif line.fold not in begun:
            begun.add(line.fold)
            is_open = f"{FOLD}{line.fold}" in opened
            yield _one(own, is_open=is_open)
            if is_open:
                yield from (replace(each, within=True) for each in own)


def _one(own: Sequence[RecordLine], *, is_open: bool) -> RecordLine:
    """Several lines as one, at the time of the newest."""
    newest, oldest = own[0], own[-1]
    people = list(dict.fromkeys(line.who for line in own))
    several = "probes" if newest.fold.startswith(FED) else "people"
    who = people[0] if len(people) == 1 else f"{len(people)} {several}"
    return replace(
        newest,
        key=f"{FOLD}{newest.fold}",
        says=_says(own, oldest),
        who=who,
        about="",
        below=(),
        opens="open" if is_open else "closed",
    )


def _says(own: Sequence[RecordLine], oldest: RecordLine) -> str:
    if own[0].portions:
        total = sum(line.portions for line in own)
        return f"{total} {own[0].part} sold in {len(own)} sales since {oldest.clock}"
    if own[0].fold.startswith(FED):
        return f"{len(own)} probes fed: {own[0].part}, and {len(own) - 1} more"
    named = [line.part for line in own[:_NAMED]]
    more = f" and {len(own) - _NAMED} more" if len(own) > _NAMED else ""
    return f"{len(own)} temperatures: {', '.join(named)}{more}"


def filtered(lines: Sequence[RecordLine], typed: str) -> tuple[RecordLine, ...]:
    """The lines that have all words that were typed, in whatever order."""
    words = inert(typed).casefold().split()
    return tuple(line for line in lines if all(word in _text(line) for word in words))


def _text(line: RecordLine) -> str:
    return " ".join(
        (line.says, line.who, line.day or "today", line.clock, line.noted, *line.below)
    ).casefold()
