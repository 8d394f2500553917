"""Making sure that a commit which failed has not happened."""

from board.ledger.lean import Database


def supersede(db: Database) -> None:
    """Put one more commit on disk, which changes nothing, in place of what a failed one left in the log.

    SQLite takes a failed commit back, but its frames may lie whole in the log, and count as committed when
    the log is next read from its start (https://www.sqlite.org/walformat.html, 4.4). The next commit is
    written over them.

    Raises:
        sqlite3.Error: the disk does not take it; then nobody knows yet.
    """
    version = db.execute("PRAGMA user_version").fetchone()[0]
    db.execute(f"PRAGMA user_version = {int(version)}")  # the same: a commit of one page


def begin_log_anew(db: Database) -> None:
    """Bring what the log holds into the file, synced, and begin the log anew where nobody reads it just now.

    Frames whose sync failed may lie in the system's memory alone, taken for written: whatever follows them in
    the log is lost with them when the power goes.

    Raises:
        sqlite3.Error: the disk does not take it.
    """
    db.execute("PRAGMA wal_checkpoint(TRUNCATE)")
