"""PINs: kept as RFC 7914 says, asked of who signs; tries that nobody can hurry, and that lock nobody out."""

import sqlite3
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path
from unicodedata import normalize

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from board.errors import LedgerError
from board.ledger import read, scrypt, signers, write
from board.ledger.checking import Right
from board.ledger.open import Ledger, create_ledger, open_ledger
from board.ledger.scrypt import Cost, Kept, hashed
from board.ledger.signers import FREE_TRIES, LONGEST_WAIT, MANY_WRONG, Vouched, show_pin

from .by_hand import EVENING, ZONE

PIN, WRONG = "pit 4711", "pit 4712"
# RFC 2104 fills a key up with NUL, so that one at the end of a secret counts for nothing; no PIN has any
seen = st.characters(exclude_characters="\0", exclude_categories=())
CHEAP = Cost(2, 1, 1)  # tests of what follows from a hash need none that takes its time


@pytest.fixture(autouse=True)
def cheap(monkeypatch: pytest.MonkeyPatch) -> None:
    """New PINs are hashed in no time."""
    monkeypatch.setattr(scrypt, "COST", CHEAP)


@pytest.fixture
def signing(ledger: Ledger) -> Iterator[Ledger]:
    """A ledger in which Ines and Wren have a PIN each."""
    for who in ("Ines", "Wren"):
        write.set_pin(ledger, PIN, **said(who))
    return ledger


def said(who: str = "Ines", minutes: float = 0) -> dict[str, object]:
    """Who and when, so many minutes after the evening began."""
    at = EVENING + timedelta(minutes=minutes)
    return {"who": who, "at": at, "noted_at": at}


def tried(ledger: Ledger, who: str, pin: str, minutes: float = 0) -> str:
    """What a try is told; empty where it was right."""
    try:
        show_pin(ledger, who, pin, EVENING + timedelta(minutes=minutes))
    except LedgerError as error:
        return str(error)
    return ""


@pytest.mark.parametrize(
    ("password", "salt", "cost", "first_half"),
    [
        ("", b"", (16, 1, 1), "77d6576238657b203b19ca42c18a0497f16b4844e3074ae8dfdffa3fede21442"),
        (
            "password",
            b"NaCl",
            (1024, 8, 16),
            "fdbabe1c9d3472007856e7190d01e9fe7c6ad7cbc8237830e77376634b373162",
        ),
        (
            "pleaseletmein",
            b"SodiumChloride",
            (16384, 8, 1),
            "7023bdcb3afd7348461c06cd81fd38ebfda8fbba904f8e3ea9b543f6545da1f2",
        ),
    ],
)
def test_the_hash_is_scrypt(password: str, salt: bytes, cost: tuple[int, int, int], first_half: str) -> None:
    """RFC 7914, section 12: its three vectors that need little memory, as far as 32 bytes go."""
    assert hashed(password, salt, Cost(*cost)).hex() == first_half


def test_a_new_pin_costs_what_owasp_asks(monkeypatch: pytest.MonkeyPatch) -> None:
    """OWASP Password Storage Cheat Sheet (from memory): of scrypt's equal settings, N=2^15, r=8, p=3."""
    monkeypatch.undo()
    assert Cost(2**15, 8, 3) == scrypt.COST
    one, other = scrypt.kept(PIN), scrypt.kept(PIN)
    assert (one.is_of(PIN), one.is_of(WRONG)) == (True, False)
    assert (one.salt != other.salt, one.hash != other.hash, len(one.salt) >= 16) == (True, True, True)


@given(st.text(seen, max_size=20), st.text(seen, max_size=20))
@settings(max_examples=200, deadline=None)
def test_any_text_is_hashed_and_only_the_same_is_right(pin: str, other: str) -> None:
    """Whatever is typed, broken characters too, ends in right or wrong."""
    one = Kept(b"salt", hashed(pin, b"salt", CHEAP), CHEAP)
    assert one.is_of(pin)
    assert one.is_of(other) == (normalize("NFKC", other) == normalize("NFKC", pin))


def test_letters_that_look_alike_count_alike() -> None:
    """NIST SP 800-63B, 5.1.1.2 (from memory): a secret is normalised before it is hashed."""
    assert Kept(b"s", hashed("caf\u00e9 12", b"s", CHEAP), CHEAP).is_of("cafe\u0301 12")


@pytest.mark.parametrize(
    "pin", ["", "1234", "12345", "111111", "123456", "987654", "x" * 65, "47\n11 8", "Ines S"]
)
def test_a_pin_that_is_guessed_first_is_refused(ledger: Ledger, pin: str) -> None:
    """Too short, too long, one figure, a run, one's own name; the line does not repeat it."""
    with pytest.raises(LedgerError, match="choose another") as refused:
        write.set_pin(ledger, pin, **said("ines s"))
    assert len(pin) < 4 or pin not in str(refused.value)
    assert not signers.has_pin(ledger, "ines s")


def test_a_pin_is_changed_by_who_knows_it(signing: Ledger) -> None:
    """Without the old one it is refused, and another's does not do; with it, the record says changed."""
    for vouched in (None, show_pin(signing, "Wren", PIN, EVENING)):
        with pytest.raises(LedgerError, match="--forgotten"):
            write.set_pin(signing, "other 88", vouched, **said())
    entry = write.set_pin(signing, "other 88", show_pin(signing, "Ines", PIN, EVENING), **said())
    assert (entry.kind, entry.subject, entry.data) == ("pin set", "Ines", {"how": "changed"})
    assert "that PIN is wrong" in tried(signing, "Ines", PIN)
    assert not tried(signing, "Ines", "other 88")


def test_a_forgotten_pin_is_replaced_and_the_record_says_so(signing: Ledger) -> None:
    """Nobody is shut out for good, and nobody does it unseen."""
    entry = write.set_pin(signing, "other 88", forgotten=True, **said())
    assert entry.data == {"how": "forgotten"}
    assert not tried(signing, "Ines", "other 88")


def test_a_lost_table_makes_nobody_new(signing: Ledger) -> None:
    """Who ever had a PIN by the record does not set a first one again."""
    signing.db.execute("DELETE FROM signers")
    with pytest.raises(LedgerError, match="--forgotten"):
        write.set_pin(signing, "other 88", **said())
    assert write.set_pin(signing, "other 88", forgotten=True, **said()).data == {"how": "forgotten"}


def test_one_person_has_one_pin_however_the_name_is_typed(signing: Ledger) -> None:
    """Case, spaces, letters of another width and those that are not seen make no second Ines."""
    for name in ("INES", " ines ", "\uff29nes", "In\u200bes", "\u2066Ines\u00ad"):
        assert signers.has_pin(signing, name)
        with pytest.raises(LedgerError, match="has a PIN"):
            write.set_pin(signing, "other 88", **said(name))


def test_a_signature_says_which_pin_it_was_signed_with(signing: Ledger) -> None:
    """It names the entry that set the PIN; without one it names none, and another's is refused."""
    span = (EVENING - timedelta(days=1), EVENING)
    mine, hers = (show_pin(signing, who, PIN, EVENING) for who in ("Ines", "Wren"))
    (set_by, _) = read.entries(signing, kinds=("pin set",))
    assert "pin" not in write.sign(signing, *span, **said()).data
    assert write.sign(signing, *span, vouched=mine, **said()).data["pin"] == set_by.seq
    assert write.handover(signing, "All well", vouched=mine, **said()).data["pin"] == set_by.seq
    with pytest.raises(LedgerError, match="sign with your own"):
        write.sign(signing, *span, vouched=hers, **said())


def test_what_was_signed_with_a_pin_is_taken_back_with_one(signing: Ledger) -> None:
    """Not by who is merely at the keys; the PIN is that of who takes it back."""
    shown = show_pin(signing, "Ines", PIN, EVENING)
    signed = write.handover(signing, "All well", vouched=shown, **said())
    with pytest.raises(LedgerError, match="signed with a PIN"):
        write.undo(signing, signed.seq, **said())
    with pytest.raises(LedgerError, match="signed with a PIN"):
        write.undo_together(signing, **said())
    with pytest.raises(LedgerError, match="sign with your own"):
        write.undo(signing, signed.seq, vouched=shown, **said("Wren"))
    (undone,) = write.undo_together(signing, vouched=shown, **said())
    assert (undone.undoes, undone.data["pin"]) == (signed.seq, shown.seq)


def test_what_was_signed_with_a_pin_keeps_its_words(signing: Ledger) -> None:
    """Nobody puts other words under a signature; it is taken back and signed anew."""
    shown = show_pin(signing, "Ines", PIN, EVENING)
    signed = write.handover(signing, "All well", vouched=shown, **said())
    with pytest.raises(LedgerError, match="take it back and sign another"):
        write.correct(signing, signed.seq, Right(text="Nothing is well"), **said("Wren"))


def test_wrong_tries_make_the_next_one_wait_and_the_wait_ends(signing: Ledger) -> None:
    """A few are free; then even the right one waits, twice as long each time, up to a quarter of an hour."""
    for _ in range(FREE_TRIES - 1):
        assert tried(signing, "Ines", WRONG).endswith("try again")
    assert "next try is at" in tried(signing, "Ines", WRONG)
    assert tried(signing, "Ines", PIN, 0.9).startswith("wrong PINs were tried")
    waited, minute = [], 0
    while len(waited) < 8:
        told = tried(signing, "Ines", WRONG, minute)
        if not told.startswith("wrong PINs"):
            waited.append(minute)
        minute += 1
    gaps = [after - before for before, after in pairwise(waited)]
    assert gaps[:4] == [2, 4, 8, 15]
    assert max(gaps) * 60 == LONGEST_WAIT.total_seconds()
    assert not tried(signing, "Ines", PIN, minute + 15)
    assert not tried(signing, "Ines", PIN, minute + 15)


def test_tries_are_counted_over_restarts_and_many_boards(signing: Ledger, path: Path) -> None:
    """A try is on disk before it is looked at: leaving in between, or another board, gives no more."""
    for _ in range(FREE_TRIES):
        with open_ledger(path) as another:
            signers.begin_try(another, "Ines", EVENING)  # killed here: nobody says how it ended
    assert tried(signing, "Ines", PIN).startswith("wrong PINs were tried")


def test_a_stranger_can_lock_out_nobody_else(ledger: Ledger) -> None:
    """Whoever guesses at some makes those wait; who has no wrong try signs at once, however many are."""
    crew = [f"cook {n}" for n in range(MANY_WRONG + 2)]
    for who in [*crew, "Ines"]:
        write.set_pin(ledger, PIN, **said(who))
    for who in crew:
        assert "that PIN is wrong" in tried(ledger, who, WRONG)
    assert not tried(ledger, "Ines", PIN)
    assert "next try is at" in tried(ledger, crew[0], WRONG) or "wrong PINs" in tried(ledger, crew[0], WRONG)
    assert not tried(ledger, crew[0], PIN, 15)


def test_one_pin_tried_on_everybody_gets_few_tries(ledger: Ledger) -> None:
    """Across people too: after many wrong ones each person has a single free try left."""
    crew = [f"cook {n}" for n in range(MANY_WRONG)]
    for who in crew:
        write.set_pin(ledger, PIN, **said(who))
    looked_at = sum("that PIN is wrong" in tried(ledger, who, f"guess {n}") for n in range(6) for who in crew)
    assert looked_at <= 2 * MANY_WRONG


def test_a_clock_that_was_ahead_holds_nobody_up(signing: Ledger) -> None:
    """Wrong tries a year ahead, under a wrong clock, are no reason to wait a year."""
    for _ in range(FREE_TRIES):
        tried(signing, "Ines", WRONG, 365 * 24 * 60)
    assert not tried(signing, "Ines", PIN)


def test_a_try_counts_whatever_it_is_for(signing: Ledger) -> None:
    """Inside a transaction the count could be taken back with the rest, so a try is not begun there."""
    with signing.writing(), pytest.raises(RuntimeError):
        signers.begin_try(signing, "Ines", EVENING)


def test_who_has_no_pin_is_told_how_to_set_one(signing: Ledger) -> None:
    """One line with the command."""
    assert tried(signing, "Bram", PIN) == "Bram has no PIN yet; set one in a terminal: board pin set 'Bram'"


def test_the_record_holds_nothing_of_a_pin(signing: Ledger, path: Path) -> None:
    """Neither the PIN nor its hash is in any entry, link or plan; the PIN is nowhere in the file at all."""
    vouched = show_pin(signing, "Ines", PIN, EVENING)
    write.sign(signing, EVENING - timedelta(days=1), EVENING, vouched=vouched, **said())
    secret = {bytes(row["hash"]) for row in signing.rows("SELECT hash FROM signers")}
    signing.close()
    with sqlite3.connect(path) as plain:
        plain.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        rest = [line for line in plain.iterdump() if 'INTO "signers"' not in line]
    assert not [line for line in rest for hash in secret if hash.hex() in line.lower()]
    assert PIN.encode() not in path.read_bytes()


def test_a_lucky_guess_leaves_a_trace(signing: Ledger) -> None:
    """Whoever shows their PIN is given the wrong tries before it."""
    tried(signing, "Ines", WRONG)
    assert show_pin(signing, "Ines", PIN, EVENING).wrong == 1
    assert show_pin(signing, "Ines", PIN, EVENING) == Vouched("Ines", 1, 0)


def test_the_zone_of_the_house_tells_when(tmp_path: Path) -> None:
    """The wait is told on the house's clock."""
    now = datetime(2026, 12, 19, 12, 0, tzinfo=UTC)
    with create_ledger(tmp_path / "b.db", "Cinder & Rye", ZONE, tmp_path) as ledger:
        write.set_pin(ledger, PIN, who="Ines", at=now, noted_at=now)
        for _ in range(FREE_TRIES):
            with pytest.raises(LedgerError) as told:
                show_pin(ledger, "Ines", WRONG, now)
        assert ledger.clock(now + timedelta(minutes=1)) in str(told.value)


def test_what_is_no_mark_is_not_taken_back(signing: Ledger) -> None:
    """That a PIN was set stays in force, by its number too, as does whatever is not listed as undone."""
    (entry, _) = read.entries(signing, kinds=("pin set",))
    with pytest.raises(LedgerError, match="is not taken back"):
        write.undo(signing, entry.seq, **said())
