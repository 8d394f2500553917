"""Published cases as projects: readers of their files, a few lines each."""

import json
from pathlib import Path

from board.planning.core.activity import Mode
from board.planning.core.project import Lag, Project, Work

DATA = Path(__file__).parent / "data"


def job_shop(name, copies=1):
    """A job shop from the package's JSON: each operation after the one before, each machine one at a time.

    With copies, each machine stands there so often, and an operation may go on any of them.
    """
    case = json.loads((DATA / "job_shops.json").read_text())[name]
    works, lags = {}, []
    for j, (lengths, machines) in enumerate(
        zip(case["duration_matrix"], case["machines_matrix"], strict=True)
    ):
        for k, (length, machine) in enumerate(zip(lengths, machines, strict=True)):
            works[f"{j},{k}"] = Work(tuple(Mode(length, {f"{machine},{c}": 1}) for c in range(copies)))
            if k:
                lags.append(Lag(f"{j},{k - 1}", f"{j},{k}", 0, from_end=True))
    resources = {f"{m},{c}": 1 for m in range(len(machines)) for c in range(copies)}
    horizon = sum(map(sum, case["duration_matrix"]))
    return Project(works, resources, lags, horizon)


def flexible(name):
    """A flexible job shop: jobs and machines, then a job a row: its operations, each with its ways to go.

    A row is the number of operations; an operation the number of machines it may go on, then each with how
    long it takes there. Fails where a row says more or less than it announces.
    """
    first, *rows = (list(map(int, line.split())) for line in (DATA / name).read_text().splitlines())
    jobs, machines = first
    shop = [_operations(row) for row in rows]
    if len(shop) != jobs or not all(1 <= m <= machines for job in shop for ways in job for m, _ in ways):
        raise ValueError(f"{name}: {len(shop)} of {jobs} jobs, or a machine beyond {machines}")
    works, lags = {}, []
    for j, job in enumerate(shop):
        for k, ways in enumerate(job):
            works[f"{j},{k}"] = Work(tuple(Mode(length, {f"M{m}": 1}) for m, length in ways))
            if k:
                lags.append(Lag(f"{j},{k - 1}", f"{j},{k}", 0, from_end=True))
    horizon = sum(max(length for _, length in ways) for job in shop for ways in job)
    return Project(works, {f"M{m + 1}": 1 for m in range(machines)}, lags, horizon)


def _operations(row):
    """A job's operations, each the machines it may go on with how long it takes there."""
    numbers = iter(row)
    found = [[(next(numbers), next(numbers)) for _ in range(next(numbers))] for _ in range(next(numbers))]
    if list(numbers):
        raise ValueError(f"numbers left over in {row}")
    return found


def psplib(name):
    """A project of PSPLIB's single-mode format: successors, then lengths and requests, then resources."""
    blocks = (DATA / name).read_text().split("*" * 72)
    after, asked, there = (_rows(block) for block in (blocks[4], blocks[5], blocks[6]))
    capacities = there[-1]
    works = {str(row[0]): Work((Mode(row[2], _uses(row[3:])),)) for row in asked}
    lags = [Lag(str(row[0]), str(to), 0, from_end=True) for row in after for to in row[3:]]
    return Project(works, _uses(capacities), lags, sum(row[2] for row in asked))


def with_lags(name):
    """A project of the RCPSP/max format: successors with lags from start to start, then lengths and requests.

    A lag of less than nothing is a longest time the other way round.
    """
    lines = [
        line.replace("[", " ").replace("]", " ").split() for line in (DATA / name).read_text().splitlines()
    ]
    count = int(lines[0][0]) + 2
    lags, works, longest = [], {}, 0
    for line in lines[1 : 1 + count]:
        _, _, many, *rest = map(int, line)
        for to, lag in zip(rest[:many], rest[many:], strict=True):
            lags.append(
                Lag(line[0], str(to), lag) if lag >= 0 else Lag(str(to), line[0], -(10**6), most=-lag)
            )
            longest += max(lag, 0)
    for line in lines[1 + count : 1 + 2 * count]:
        works[line[0]] = Work((Mode(int(line[2]), _uses(map(int, line[3:]))),))
        longest += int(line[2])
    return Project(works, _uses(map(int, lines[1 + 2 * count])), lags, longest)


def _rows(block):
    rows = [line.split() for line in block.splitlines()]
    return [list(map(int, row)) for row in rows if row and all(word.isdigit() for word in row)]


def _uses(amounts):
    return {f"R{i}": amount for i, amount in enumerate(amounts)}
