"""The ledger's tables, and the migrations that lead there from an empty file.

A migration is never edited once released; the next change is a new function at the end.
"""

from collections.abc import Iterable

from board.errors import LedgerError
from board.ledger import links
from board.ledger.lean import Database, Migrations

APPLICATION_ID = 0x626F6172  # "boar": tells a ledger from any other SQLite file
migrations = Migrations("board.ledger")


def check_not_newer(file: str, applied: Iterable[str]) -> None:
    """Refuse a ledger with migrations that this program does not know, which `applied` names in their order.

    Raises:
        LedgerError: a newer program made them in the `file`.
    """
    known = {step.name for step in migrations.pending(Database(memory=True, execute_plugins=False))}
    if newer := [name for name in applied if name not in known]:
        raise LedgerError(
            f"{file} was written by a newer program (it has “{newer[-1]}”); "
            "bring this one up to date: pip install --upgrade board"
        )


MOMENT = "GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T[0-9][0-9]:[0-9][0-9]:[0-9][0-9].[0-9][0-9][0-9]Z'"

RECORD = (
    f"""CREATE TABLE entries (
        seq INTEGER PRIMARY KEY AUTOINCREMENT,
        at TEXT NOT NULL CHECK (at {MOMENT}),
        noted_at TEXT NOT NULL CHECK (noted_at {MOMENT}),
        who TEXT NOT NULL CHECK (who <> ''),
        kind TEXT NOT NULL CHECK (kind <> ''),
        subject TEXT NOT NULL,
        data TEXT NOT NULL CHECK (json_valid(data)),
        undoes INTEGER REFERENCES entries (seq)
    ) STRICT""",
    "CREATE INDEX entries_at ON entries (at)",
    "CREATE INDEX entries_kind ON entries (kind)",
    "CREATE INDEX entries_who ON entries (who)",
    "CREATE UNIQUE INDEX entries_undoes ON entries (undoes) WHERE undoes IS NOT NULL",
    """CREATE TABLE plans (
        seq INTEGER PRIMARY KEY REFERENCES entries (seq),
        day TEXT NOT NULL,
        version INTEGER NOT NULL CHECK (version > 0),
        document TEXT NOT NULL CHECK (json_valid(document)),
        UNIQUE (day, version)
    ) STRICT""",
    """CREATE TABLE bearing (
        family TEXT NOT NULL,
        day TEXT NOT NULL,
        id TEXT NOT NULL,
        seq INTEGER NOT NULL REFERENCES entries (seq),
        PRIMARY KEY (family, day, id, seq)
    ) STRICT, WITHOUT ROWID""",
)

STATE = (
    """CREATE TABLE loads (
        day TEXT NOT NULL, id TEXT NOT NULL,
        cut TEXT NOT NULL, item TEXT NOT NULL, pit TEXT NOT NULL,
        pieces INTEGER NOT NULL, portions INTEGER NOT NULL, portions_left INTEGER NOT NULL,
        load_at TEXT NOT NULL, known_from TEXT NOT NULL, dropped INTEGER NOT NULL,
        stage TEXT NOT NULL, since TEXT,
        prepped_at TEXT, on_at TEXT, wrapped_at TEXT, pulled_at TEXT,
        resting_at TEXT, holding_at TEXT, served_at TEXT, lost_at TEXT,
        PRIMARY KEY (day, id)
    ) STRICT""",
    "CREATE INDEX loads_id ON loads (id)",
    """CREATE TABLE steps (
        day TEXT NOT NULL, id TEXT NOT NULL,
        at TEXT NOT NULL, ends_at TEXT NOT NULL, what TEXT NOT NULL, minutes REAL NOT NULL,
        person TEXT, load TEXT, batch TEXT, pit TEXT, dropped INTEGER NOT NULL,
        done_at TEXT, done_by TEXT, done_seq INTEGER REFERENCES entries (seq),
        PRIMARY KEY (day, id)
    ) STRICT""",
    "CREATE INDEX steps_id ON steps (id)",
    "CREATE INDEX steps_load ON steps (day, load)",
    "CREATE INDEX steps_open ON steps (at) WHERE done_seq IS NULL AND NOT dropped",
    """CREATE TABLE batches (
        day TEXT NOT NULL, id TEXT NOT NULL,
        recipe TEXT NOT NULL, kind TEXT NOT NULL, amount_kg REAL NOT NULL,
        make_by TEXT NOT NULL, ready_from TEXT NOT NULL, use_by TEXT NOT NULL, dropped INTEGER NOT NULL,
        stage TEXT NOT NULL, lot TEXT, made_by TEXT,
        made_at TEXT, ready_at TEXT, used_at TEXT, discarded_at TEXT,
        PRIMARY KEY (day, id)
    ) STRICT""",
    "CREATE INDEX batches_id ON batches (id)",
    "CREATE TABLE pits (id TEXT PRIMARY KEY NOT NULL, lit_at TEXT, setpoint_c REAL) STRICT",
    """CREATE TABLE promises (
        day TEXT NOT NULL, service TEXT NOT NULL, item TEXT NOT NULL, portions INTEGER NOT NULL,
        PRIMARY KEY (day, service, item)
    ) STRICT""",
    """CREATE TABLE sales (
        day TEXT NOT NULL, service TEXT NOT NULL, item TEXT NOT NULL,
        sold INTEGER NOT NULL, sold_out_at TEXT,
        PRIMARY KEY (day, service, item)
    ) STRICT""",
    """CREATE TABLE readings (
        seq INTEGER PRIMARY KEY REFERENCES entries (seq),
        at TEXT NOT NULL, who TEXT NOT NULL, place TEXT NOT NULL, load TEXT, load_day TEXT,
        temperature_c REAL NOT NULL
    ) STRICT""",
    "CREATE INDEX readings_place ON readings (place, at)",
    "CREATE INDEX readings_load ON readings (load, load_day, at) WHERE load IS NOT NULL",
    """CREATE TABLE house (
        id INTEGER PRIMARY KEY CHECK (id = 1),
        name TEXT NOT NULL, zone TEXT NOT NULL, folder TEXT NOT NULL
    ) STRICT""",
)


@migrations(name="0001 record and state")
def record_and_state(db: Database) -> None:
    """The append-only record, the plans, and the state that follows from them."""
    for statement in (*RECORD, *STATE):
        db.execute(statement)
    for table in ("entries", "plans"):
        _make_append_only(db, table)
    db.execute(f"PRAGMA application_id = {APPLICATION_ID}")


def _make_append_only(db: Database, table: str) -> None:
    """Refuse every change of a row: updates, deletes, and inserts that would replace one."""
    refuse = f"BEGIN SELECT RAISE(ABORT, '{table} are append-only'); END"
    db.execute(f"CREATE TRIGGER {table}_no_update BEFORE UPDATE ON {table} {refuse}")
    db.execute(f"CREATE TRIGGER {table}_no_delete BEFORE DELETE ON {table} {refuse}")
    db.execute(
        f"CREATE TRIGGER {table}_no_replace BEFORE INSERT ON {table} "
        f"WHEN EXISTS (SELECT 1 FROM {table} WHERE seq = NEW.seq) {refuse}"
    )


@migrations(name="0002 loads that change pits")
def loads_that_change_pits(db: Database) -> None:
    """When a load was moved to its pit and from which; no entry before this one says so."""
    db.execute("ALTER TABLE loads ADD COLUMN moved_at TEXT")
    db.execute("ALTER TABLE loads ADD COLUMN moved_from TEXT")


@migrations(name="0003 what a load weighs and is cooked at")
def what_a_load_weighs(db: Database) -> None:
    """Mass and setpoint of each load, from the last plan that named it before it was started."""
    db.execute("ALTER TABLE loads ADD COLUMN mass_kg REAL")
    db.execute("ALTER TABLE loads ADD COLUMN setpoint_c REAL")
    db.execute(
        """UPDATE loads SET (mass_kg, setpoint_c) = (
            SELECT json_extract(piece.value, '$.mass_kg'), json_extract(piece.value, '$.setpoint_c')
            FROM plans p, json_each(p.document, '$.loads') piece
            WHERE p.day = loads.day AND json_extract(piece.value, '$.id') = loads.id AND NOT EXISTS (
                SELECT 1 FROM bearing b JOIN entries e ON e.seq = b.seq
                WHERE b.family = 'load' AND b.day = loads.day AND b.id = loads.id AND b.seq < p.seq
                AND json_extract(e.data, '$.stage') IS NOT NULL
                AND NOT EXISTS (SELECT 1 FROM entries u WHERE u.undoes = e.seq))
            ORDER BY p.seq DESC LIMIT 1)"""
    )


@migrations(name="0004 loads pinned to a place")
def loads_pinned(db: Database) -> None:
    """Where a person wants a load cooked, whatever else is planned anew; no entry before this one says so."""
    db.execute(
        """CREATE TABLE pins (
            day TEXT NOT NULL, load TEXT NOT NULL,
            pit TEXT NOT NULL, zone TEXT, setpoint_c REAL, load_at TEXT NOT NULL,
            PRIMARY KEY (day, load)
        ) STRICT"""
    )


@migrations(name="0005 zones of the pits loads are on")
def zones_of_loads(db: Database) -> None:
    """The zone of a load's pit, from the last plan that named it before it was started; no mark named one."""
    db.execute("ALTER TABLE loads ADD COLUMN zone TEXT")
    db.execute("ALTER TABLE loads ADD COLUMN moved_from_zone TEXT")
    planned = """(SELECT json_extract(piece.value, '$.zone')
        FROM plans p, json_each(p.document, '$.loads') piece
        WHERE p.day = loads.day AND json_extract(piece.value, '$.id') = loads.id
        AND json_extract(piece.value, '$.pit') = {pit} AND NOT EXISTS (
            SELECT 1 FROM bearing b JOIN entries e ON e.seq = b.seq
            WHERE b.family = 'load' AND b.day = loads.day AND b.id = loads.id AND b.seq < p.seq
            AND json_extract(e.data, '$.stage') IS NOT NULL
            AND NOT EXISTS (SELECT 1 FROM entries u WHERE u.undoes = e.seq))
        ORDER BY p.seq DESC LIMIT 1)"""
    db.execute(f"UPDATE loads SET zone = {planned.format(pit='loads.pit')} WHERE moved_at IS NULL")
    moved = planned.format(pit="loads.moved_from")
    db.execute(f"UPDATE loads SET moved_from_zone = {moved} WHERE moved_at IS NOT NULL")


@migrations(name="0006 pieces of pinned loads")
def pieces_of_pins(db: Database) -> None:
    """How many pieces of a load are pinned, where not all of it; no entry before this one says so."""
    db.execute("ALTER TABLE pins ADD COLUMN pieces INTEGER")


@migrations(name="0007 weighing, lots and uses of batches")
def weighing_and_uses(db: Database) -> None:
    """What was weighed of a batch, what a step took of it, why it was discarded; no entry before says any."""
    db.execute(
        """CREATE TABLE weighings (
            day TEXT NOT NULL, batch TEXT NOT NULL, line INTEGER NOT NULL,
            ingredient TEXT NOT NULL, grams REAL NOT NULL, asked_g REAL NOT NULL,
            who TEXT NOT NULL, at TEXT NOT NULL, reader TEXT,
            PRIMARY KEY (day, batch, line)
        ) STRICT"""
    )
    db.execute(
        """CREATE TABLE uses (
            day TEXT NOT NULL, step TEXT NOT NULL, batch TEXT NOT NULL,
            load TEXT NOT NULL, batch_day TEXT NOT NULL, lot TEXT, kg REAL NOT NULL,
            who TEXT NOT NULL, at TEXT NOT NULL,
            PRIMARY KEY (day, step, batch)
        ) STRICT"""
    )
    db.execute("CREATE INDEX uses_batch ON uses (batch_day, batch)")
    db.execute("ALTER TABLE batches ADD COLUMN discarded_why TEXT")
    db.execute("CREATE INDEX batches_lot ON batches (lot)")


@migrations(name="0008 watches and corrections")
def watches_and_corrections(db: Database) -> None:
    """Food under a rule that runs, and what a corrected reading first said; no entry before says either."""
    db.execute("ALTER TABLE readings ADD COLUMN as_read_c REAL")
    db.execute("ALTER TABLE readings ADD COLUMN corrected_by INTEGER")
    db.execute(
        """CREATE TABLE watches (
            id TEXT PRIMARY KEY NOT NULL, kind TEXT NOT NULL, what TEXT NOT NULL,
            seq INTEGER NOT NULL REFERENCES entries (seq),
            started_at TEXT NOT NULL, started_by TEXT NOT NULL,
            amount TEXT, load TEXT, load_day TEXT, place TEXT, way TEXT, from_watch TEXT, made_on TEXT,
            frozen TEXT NOT NULL, ended_at TEXT, ended_by TEXT, how TEXT
        ) STRICT"""
    )
    db.execute("CREATE INDEX watches_open ON watches (started_at) WHERE ended_at IS NULL")


@migrations(name="0009 answers to alarms")
def answers_to_alarms(db: Database) -> None:
    """What was last said to each alarm; no entry before this one says any."""
    db.execute(
        """CREATE TABLE alarms (
            key TEXT PRIMARY KEY NOT NULL, level INTEGER NOT NULL,
            who TEXT NOT NULL, at TEXT NOT NULL, seq INTEGER NOT NULL REFERENCES entries (seq),
            until TEXT, why TEXT
        ) STRICT"""
    )


@migrations(name="0010 orders, times and regrouped loads")
def orders_and_regroups(db: Database) -> None:
    """What was changed of a day's serving times, and which loads are to be split or joined; none before."""
    db.execute(
        """CREATE TABLE occasions (
            day TEXT NOT NULL, service TEXT NOT NULL,
            name TEXT, at TEXT, struck INTEGER NOT NULL,
            PRIMARY KEY (day, service)
        ) STRICT"""
    )
    db.execute(
        """CREATE TABLE regroups (
            seq INTEGER NOT NULL REFERENCES entries (seq), day TEXT NOT NULL,
            load TEXT NOT NULL, other TEXT NOT NULL, pieces INTEGER,
            PRIMARY KEY (day, seq)
        ) STRICT"""
    )


@migrations(name="0011 links")
def links_of_entries(db: Database) -> None:
    """The chain over all entries, and the machine's own count at each; none was kept for entries before."""
    db.execute(
        """CREATE TABLE links (
            seq INTEGER PRIMARY KEY REFERENCES entries (seq),
            sha256 TEXT NOT NULL, boot TEXT NOT NULL, up_ms INTEGER
        ) STRICT"""
    )
    entries = (links.Stored(*row) for row in db.execute(links.ENTRIES))
    db.conn.executemany("INSERT INTO links VALUES (?, ?, ?, ?)", links.linked(entries))
    _make_append_only(db, "links")


@migrations(name="0012 probe feed")
def probe_feed(db: Database) -> None:
    """Readings that probes feed, which load a probe was put into, what was struck, and where feeds stand.

    Of `fed`, `told_load` is what its entry says and `load` what counts, with `placings` laid over it.
    `feeds` and `aside` are notes of the machinery; they follow from no entry.
    """
    db.execute(
        """CREATE TABLE fed (
            probe TEXT NOT NULL, at TEXT NOT NULL,
            place TEXT, load TEXT, load_day TEXT, temperature_c REAL NOT NULL,
            seq INTEGER NOT NULL REFERENCES entries (seq),
            told_load TEXT, told_day TEXT, struck INTEGER,
            PRIMARY KEY (probe, at)
        ) STRICT, WITHOUT ROWID"""
    )
    db.execute("CREATE INDEX entries_told ON entries (at) WHERE kind <> 'fed'")
    db.execute("CREATE INDEX fed_place ON fed (place, at) WHERE place IS NOT NULL")
    db.execute("CREATE INDEX fed_load ON fed (load, load_day, at) WHERE load IS NOT NULL")
    db.execute(
        """CREATE TABLE placings (
            seq INTEGER PRIMARY KEY REFERENCES entries (seq),
            probe TEXT NOT NULL, at TEXT NOT NULL, who TEXT NOT NULL, load TEXT, load_day TEXT
        ) STRICT"""
    )
    db.execute("CREATE INDEX placings_probe ON placings (probe, at)")
    db.execute(
        """CREATE TABLE struck (
            seq INTEGER PRIMARY KEY REFERENCES entries (seq),
            probe TEXT NOT NULL, since TEXT NOT NULL, until TEXT NOT NULL, who TEXT NOT NULL, why TEXT
        ) STRICT"""
    )
    db.execute("CREATE INDEX struck_probe ON struck (probe, since)")
    db.execute(
        """CREATE TABLE feeds (
            source TEXT PRIMARY KEY NOT NULL, position TEXT NOT NULL,
            began_at TEXT NOT NULL, flushed_at TEXT NOT NULL,
            kept INTEGER NOT NULL, thinned INTEGER NOT NULL, doubled INTEGER NOT NULL, bad INTEGER NOT NULL
        ) STRICT"""
    )
    db.execute(
        """CREATE TABLE aside (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            source TEXT NOT NULL, at TEXT NOT NULL, why TEXT NOT NULL, message TEXT NOT NULL
        ) STRICT"""
    )


@migrations(name="0013 signers and their PINs")
def signers(db: Database) -> None:
    """Who signs with a PIN: its salted hash, and the wrong tries since it was last right; none before."""
    db.execute(
        """CREATE TABLE signers (
            who TEXT PRIMARY KEY NOT NULL, seq INTEGER NOT NULL REFERENCES entries (seq),
            salt BLOB NOT NULL, hash BLOB NOT NULL,
            cost INTEGER NOT NULL, block INTEGER NOT NULL, lanes INTEGER NOT NULL,
            wrong INTEGER NOT NULL DEFAULT 0, wrong_at TEXT
        ) STRICT"""
    )
