"""What the program may not hold: a shell, code made of text, objects of bytes, SQL of what is typed."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
FILES = sorted((ROOT / "board").rglob("*.py"))

# Modules that run programs, make objects or code of bytes (Python's docs warn of them) or reach out; where.
# Of sockets the door of `board serve` only takes in what comes to the address that listening.py looked at.
# multiprocessing pickles between a process and those it started itself; of xml only letters are escaped.
UNSAFE: dict[str, tuple[str, ...]] = {
    **dict.fromkeys(("subprocess", "pty", "code", "codeop", "ctypes", "runpy"), ()),
    **dict.fromkeys(("pickle", "marshal", "shelve", "dill", "joblib", "yaml"), ()),
    **dict.fromkeys(("telnetlib", "ftplib", "http", "urllib", "requests", "httpx"), ()),
    **dict.fromkeys(
        ("socket", "ssl"),
        ("board/commands/feed/", "board/commands/serve/listening.py", "board/commands/serve/door.py"),
    ),
    **dict.fromkeys(("aiohttp", "textual_serve"), ("board/commands/serve/",)),
    "multiprocessing": ("board/planning/search/apart.py",),
    "xml": ("board/sheets/pdf.py",),
}
CALLS = {"eval", "exec", "compile", "__import__", "breakpoint", "input"}
METHODS = {"system", "popen", "mktemp", "executescript", "enable_load_extension", "load_extension"}
STARTS = {"board/commands/serve/process.py": {"asyncio.create_subprocess_exec"}}  # programs: the board itself
OF_OS = re.compile(r"os\.(exec|spawn|posix_spawn|system|popen|startfile|fork)")

SQL = re.compile(r"\b(SELECT|INSERT|UPDATE|DELETE|CREATE|DROP|ALTER|PRAGMA|ATTACH|WHERE|ORDER BY|VALUES)\b")
CONSTANT = re.compile(r"(\w+\.)?_?[A-Z][A-Z_]*")
# What stands in SQL besides constants: question marks, numbers, what the same file spells out, and names
# out of a ledger's file in quotation marks. Everything else is bound.
SPELT_OUT = {
    "board/ledger/backups/copy.py": {"setting"},
    "board/ledger/digest.py": {"happened", "later"},
    "board/ledger/doctor/examine.py": {"setting"},
    "board/ledger/doctor/file.py": {
        "4 * MOST",
        "quoted(table)",
        "quoted(column)",
        "quoted(named or 'rowid')",
        "quoted(parent)",
    },
    "board/ledger/doctor/mend.py": {"table", "columns", "marks"},
    "board/ledger/doctor/state.py": {"table", "', '.join((*key, *columns))", "', '.join(key)"},
    "board/ledger/fed.py": {"' AND '.join((_COLUMNS, *clauses))", "limit", "where"},
    "board/ledger/find.py": {"table", "column", "in_play"},
    "board/ledger/open.py": {"setting"},
    "board/ledger/past.py": {"those", "righted"},
    "board/ledger/read.py": {"' AND '.join(clauses) or '1'", "order", "_limit(limit)", "where", "marks"},
    "board/ledger/schema.py": {"table", "refuse", "moved", "planned.format(pit='loads.pit')"},
    "board/ledger/search.py": {"marks", "like"},
    "board/ledger/store.py": {"table.name", "_where(table)", "', '.join(row)", "marks"},
    "board/ledger/superseding.py": {"int(version)"},
    "board/ledger/together.py": {"kinds"},
    "board/ledger/turns.py": {"round(1000 * seconds)"},
    "board/ledger/undo.py": {"kinds"},
}


def trees() -> Iterator[tuple[str, ast.Module]]:
    """Every file of the program, parsed, by its place."""
    for path in FILES:
        yield path.relative_to(ROOT).as_posix(), ast.parse(path.read_text(encoding="utf-8"))


def imported(tree: ast.Module) -> Iterator[str]:
    """The names of all modules that a file imports, wherever in it."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            yield node.module


def dangerous(tree: ast.Module) -> Iterator[str]:
    """Calls that run text as code or as a command, or name a file that another may make first."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            called = ast.unparse(node.func)
            if (
                called in CALLS
                or (called.rpartition(".")[2] in METHODS and "." in called)
                or OF_OS.match(called)
            ):
                yield called
            if any(keyword.arg == "shell" for keyword in node.keywords):
                yield f"{called}(shell=…)"


def started(tree: ast.Module) -> set[str]:
    """Calls that start a program through the event loop."""
    calls = (ast.unparse(node.func) for node in ast.walk(tree) if isinstance(node, ast.Call))
    return {called for called in calls if "create_subprocess" in called or "subprocess_" in called}


def spelt_into_sql(tree: ast.Module) -> Iterator[str]:
    """What is put into a text of SQL, other than constants."""
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            plain = "".join(str(part.value) for part in node.values if isinstance(part, ast.Constant))
            said = (ast.unparse(part.value) for part in node.values if isinstance(part, ast.FormattedValue))
            yield from (one for one in said if SQL.search(plain) and not CONSTANT.fullmatch(one))
        elif isinstance(node, ast.BinOp) and isinstance(node.op, (ast.Mod, ast.Add)):
            side = node.left
            if isinstance(side, ast.Constant) and isinstance(side.value, str) and SQL.search(side.value):
                yield ast.unparse(node)


def test_no_module_that_runs_or_unpacks_anything() -> None:
    """No shell, no pickle, no network, but where the table above says why."""
    found = [
        f"{place}: {name}"
        for place, tree in trees()
        for name in imported(tree)
        if name.partition(".")[0] in UNSAFE
        and not any(place.startswith(allowed) for allowed in UNSAFE[name.partition(".")[0]])
    ]
    assert found == []


def test_no_text_is_run() -> None:
    """No eval, no exec, no shell, no file name that somebody else can make first."""
    assert [f"{place}: {call}" for place, tree in trees() for call in dangerous(tree)] == []


def test_only_a_board_in_a_browser_is_a_program_that_is_started() -> None:
    """With a list of words, never through a shell."""
    assert {place: calls for place, tree in trees() if (calls := started(tree))} == STARTS


def test_sql_is_made_of_the_ledgers_own_words() -> None:
    """A new expression in a text of SQL fails here until the table says what it is; a stale one fails too."""
    found: dict[str, set[str]] = {}
    for place, tree in trees():
        if said := set(spelt_into_sql(tree)):
            found[place] = said
    assert found == SPELT_OUT


@pytest.mark.parametrize(
    ("text", "finds"),
    [
        ("import subprocess", imported),
        ("from pickle import loads", imported),
        ("eval(x)", dangerous),
        ("os.system(x)", dangerous),
        ("run(x, shell=True)", dangerous),
        ("tempfile.mktemp()", dangerous),
        ("db.executescript(x)", dangerous),
        ("asyncio.create_subprocess_shell(x)", started),
        ("loop.subprocess_shell(f, x)", started),
        ("f'SELECT * FROM t WHERE who = {who}'", spelt_into_sql),
        ("'SELECT * FROM t WHERE who = %s' % who", spelt_into_sql),
    ],
)
def test_each_would_be_found(text: str, finds: object) -> None:
    """The checks above can fail."""
    assert list(finds(ast.parse(text)))  # type: ignore[operator]
