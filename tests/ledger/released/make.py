"""Make the kept ledgers: one by every version whose migrations were new, and by the last before each.

    python -m tests.ledger.released.make

A ledger is made once, with its version's own code in a checkout of its own, and then kept: one that is there
is left as it is. What is kept is gzip of the file as that version closed it, named by place and commit.
"""

import gzip
import os
import re
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

HERE = Path(__file__).parent
REPOSITORY = HERE.parents[2]
RULES = "tests/ledger/test_rebuild.py"
SCHEMA = "board/ledger/schema.py"


def main() -> None:
    """Make what is not there yet, oldest first, and print a line for each."""
    for place, commit in enumerate(versions(), 1):
        kept = HERE / f"{place:02}-{commit}.db.gz"
        if not kept.exists():
            print(kept.name, _made(commit, kept))  # noqa: T201


def versions() -> Iterator[str]:
    """The commits, oldest first: the last with a set of migrations, and the first with the next."""
    before = -1
    for commit in _git("log", "--format=%h", "--abbrev=9", "--reverse", "--", SCHEMA).split():
        names = len(re.findall(r"^@migrations\(", _git("show", f"{commit}:{SCHEMA}"), re.MULTILINE))
        if names != before:
            if before >= 0:
                yield _git("rev-parse", "--short=9", f"{commit}^").strip()
            yield commit
        before = names


def _made(commit: str, kept: Path) -> str:
    """Play with that commit's code and keep the ledger; says how many kinds of entry and entries."""
    with tempfile.TemporaryDirectory() as folder:
        tree, ledger = Path(folder) / "tree", Path(folder) / "board.db"
        _git("worktree", "add", "--detach", str(tree), commit)
        try:
            _have_rules(tree)
            said = subprocess.run(
                [sys.executable, str(HERE / "play.py"), str(ledger)],
                env={**os.environ, "PYTHONPATH": str(tree)},
                cwd=tree,
                check=True,
                capture_output=True,
                text=True,
            ).stdout
        finally:
            _git("worktree", "remove", "--force", str(tree))
        kept.write_bytes(gzip.compress(ledger.read_bytes(), mtime=0))
    return said.strip()


def _have_rules(tree: Path) -> None:
    """The rules by which people act were written soon after the first ledger, which takes the first."""
    (tree / "tests" / "__init__.py").touch()  # else another checkout's tests, where installed, go before
    if not (tree / RULES).exists():
        first = _git("log", "--format=%h", "--diff-filter=A", "--", RULES).strip()
        (tree / RULES).write_text(_git("show", f"{first}:{RULES}"), encoding="utf-8")


def _git(*arguments: str) -> str:
    return subprocess.run(
        ["git", "-C", str(REPOSITORY), *arguments], check=True, capture_output=True, text=True
    ).stdout


if __name__ == "__main__":
    main()
