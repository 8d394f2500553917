"""The failing disk of `layer.c`, armed from outside: where it cuts, what it refuses, what a cut undoes."""

import ctypes
import errno
import mmap
import os
import shutil
import struct
import subprocess
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import IntEnum, IntFlag
from pathlib import Path
from tempfile import gettempdir

SOURCE = Path(__file__).with_name("layer.c")
FIELDS = (
    "operations",
    "cut_at",
    "dead",
    "failable",
    "fail_at",
    "fail_classes",
    "fail_errno",
    "fail_times",
    "fail_short",
    "failed",
)
HEAD = struct.Struct("=4I5Q")
FOREVER = 2**62


class Class(IntFlag):
    """What an operation does, as `layer.c` counts them."""

    WRITE = 1
    SYNC = 2
    TRUNCATE = 4
    NAME = 8
    READ = 16


class Kind(IntEnum):
    """What a line of the log undoes, as `layer.c` numbers them."""

    WRITE = 1
    TRUNCATE = 2
    SYNC = 3
    FAILED_SYNC = 4
    CREATE = 5
    LINK = 6
    RENAME = 7
    UNLINK = 8
    MKDIR = 9
    RMDIR = 10


BYTES = (Kind.WRITE, Kind.TRUNCATE)
SYNCS = (Kind.SYNC, Kind.FAILED_SYNC)


@dataclass(frozen=True, slots=True)
class Done:
    """One operation of the log: what it touched, and what stood there before."""

    kind: Kind
    ino: int
    offset: int
    length: int
    size: int  # of the file before
    data: bytes
    first: str
    second: str


def why_not() -> str | None:
    """Why the layer cannot be had on this machine; None where it can."""
    if not sys.platform.startswith("linux"):
        return "the failing disk is laid under a program by LD_PRELOAD, as Linux has it"
    if not shutil.which("cc"):
        return "there is no C compiler (cc) to build the failing disk with"
    return None


def why_skipped() -> str | None:
    """Why the tests of it are skipped; None where they run, or where the environment says that they must."""
    return None if os.environ.get("BOARD_DISK") == "required" else why_not()


def run_under(arguments: Sequence[str]) -> None:
    """Start this command again with the layer loaded, unless it is; its processes may then enter it."""
    reason = why_not()
    if reason:
        sys.exit(reason)
    if "LAYER_CONTROL" in os.environ:
        return
    place = Path(gettempdir()) / f"layer-{os.getpid()}"
    place.mkdir(mode=0o700)
    built = place / "layer.so"
    subprocess.run(["cc", "-O1", "-shared", "-fPIC", "-o", built, SOURCE, "-ldl", "-lpthread"], check=True)
    paths = {name: str(place / name.lower()) for name in ("UNDER", "CONTROL", "LOG", "LIMBO")}
    variables = {f"LAYER_{name}": path for name, path in paths.items()} | {"LD_PRELOAD": str(built)}
    started = subprocess.run([sys.executable, *arguments], env=os.environ | variables, check=False)
    shutil.rmtree(place, ignore_errors=True)
    sys.exit(started.returncode)


class Layer:
    """The failing disk of this command: one folder, one control, one log."""

    def __init__(self) -> None:
        self.folder = Path(os.environ["LAYER_UNDER"])
        self.log = Path(os.environ["LAYER_LOG"])
        self.limbo = Path(os.environ["LAYER_LIMBO"])
        control = Path(os.environ["LAYER_CONTROL"])
        control.write_bytes(bytes(mmap.PAGESIZE))
        with control.open("r+b") as file:
            self.control = mmap.mmap(file.fileno(), mmap.PAGESIZE)

    def fresh(self) -> None:
        """An empty folder on a disk that does not fail."""
        for folder in (self.folder, self.limbo):
            shutil.rmtree(folder, ignore_errors=True)
            folder.mkdir()
        self.settle()

    def settle(self) -> None:
        """All is on disk, and nothing is armed."""
        self.log.write_bytes(b"")
        shutil.rmtree(self.limbo, ignore_errors=True)
        self.limbo.mkdir()
        self.arm()

    def arm(self, **values: int) -> None:
        """Set the control's fields; those not named are 0."""
        self.control[: 8 * len(FIELDS)] = struct.pack(
            f"={len(FIELDS)}Q", *(values.get(name, 0) for name in FIELDS)
        )

    def refuse(self, at: int, classes: Class, error: int, times: int = 1, *, short: bool = False) -> None:
        """Have the `at`-th operation of these classes refused, and as many after it as `times` says."""
        self.arm(fail_at=at, fail_classes=classes, fail_errno=error, fail_times=times, fail_short=int(short))

    def put_right(self) -> None:
        """Refuse nothing any more; what was counted stays."""
        struct.pack_into("=Q", self.control, 8 * FIELDS.index("fail_at"), 0)

    def said(self, field: str) -> int:
        """What the control holds in one field."""
        value: int = struct.unpack_from("=Q", self.control, 8 * FIELDS.index(field))[0]
        return value

    def operations(self) -> list[Done]:
        """What was done since it settled, in order; a last line cut short was not done any more."""
        return list(_read(self.log.read_bytes()))


def enter() -> None:
    """From here on this process is under the layer."""
    ctypes.CDLL(None).layer_on()


def _read(log: bytes) -> Iterator[Done]:
    at = 0
    while at + HEAD.size <= len(log):
        kind, data, first, second, ino, _, offset, length, size = HEAD.unpack_from(log, at)
        at += HEAD.size
        if at + data + first + second > len(log):
            return
        names = log[at + data : at + data + first + second]
        yield Done(
            Kind(kind),
            ino,
            offset,
            length,
            size,
            log[at : at + data],
            os.fsdecode(names[:first]),
            os.fsdecode(names[first:]),
        )
        at += data + first + second


ERRORS = {"ENOSPC": errno.ENOSPC, "EIO": errno.EIO}
