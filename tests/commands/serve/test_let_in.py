"""The parts of letting in: where may be listened, what a passphrase is, tries and visits."""

import os
import ssl
import time
from pathlib import Path

import pytest

from board.commands.serve import running
from board.commands.serve.listening import Listening, listening
from board.commands.serve.passphrase import Passphrase, check_new
from board.commands.serve.site import Site
from board.commands.serve.tries import FREE_TRIES, LONGEST_WAIT_SECONDS, MANY_WRONG, Tries, place_of
from board.commands.serve.visits import Visits, device_of, device_token
from board.errors import BoardError
from board.ledger.scrypt import kept

from .sites import PASSPHRASE


@pytest.mark.parametrize("host", ["127.0.0.1", "localhost", "::1", "127.3.2.1"])
def test_this_machine_alone_needs_no_tls(host: str) -> None:
    """Nothing goes over a wire there."""
    assert listening(host, 8421, None, None, ()).tls is None


@pytest.mark.parametrize("host", ["0.0.0.0", "::", "192.168.1.20", "kitchen.lan"])
def test_beyond_this_machine_tls_is_asked_for(host: str) -> None:
    """The line says what is allowed instead."""
    with pytest.raises(BoardError, match=r"--certificate and --key, or keep to 127.0.0.1, behind a proxy"):
        listening(host, 8421, None, None, ())


def test_the_address_told_is_one_that_is_answered() -> None:
    """The first name given, or this machine's own where TLS is spoken for all its addresses."""
    tls = ssl.create_default_context()
    for names in (("kitchen.lan",), ("vm",)):
        where = Listening("0.0.0.0", 0, names, tls)
        assert where.address(8421) == f"https://{names[0]}:8421"
        assert where.is_meant(f"{names[0]}:8421")
    assert Listening("::1", 0, ("kitchen.lan",)).address(8421) == "http://[::1]:8421"


@pytest.mark.parametrize(
    "passphrase", ["short", "x" * 201, "a" * 16, "121212121212", "a tab\tis in here", "The Tallow Row"]
)
def test_a_passphrase_that_is_soon_guessed_is_refused(passphrase: str) -> None:
    """The line never repeats it; three words in any letters are good."""
    with pytest.raises(BoardError) as told:
        check_new(passphrase, "the tallow row")
    assert passphrase not in str(told.value)
    for good in (PASSPHRASE, "дым до рассвета"):
        check_new(good, "the tallow row")


def test_of_a_passphrase_its_hash_alone_is_kept_for_its_owner(tmp_path: Path) -> None:
    """Whatever umask the shell has."""
    found = Passphrase.beside(tmp_path / "board.db")
    before = os.umask(0)
    try:
        found.set(PASSPHRASE)
    finally:
        os.umask(before)
    assert found.path.stat().st_mode & 0o077 == 0
    assert PASSPHRASE not in found.path.read_text(encoding="utf-8")
    what = found.kept()
    assert what is not None
    assert (what.is_of(PASSPHRASE), what.is_of(PASSPHRASE.title())) == (True, False)


@pytest.mark.parametrize("content", [b"", b"{}", b"[1]", b"\xff", b'{"salt": 3}', b"[" * 4000, b"null"])
def test_a_file_that_was_spoiled_lets_nobody_in(content: bytes, tmp_path: Path) -> None:
    """And is told with what sets it anew."""
    found = Passphrase.beside(tmp_path / "board.db")
    found.path.write_bytes(content)
    assert found.kept() is None
    with pytest.raises(BoardError, match=r"board.db.passphrase: .* set it with: board serve --passphrase"):
        found.check()


def test_wrong_tries_wait_longer_and_longer_and_then_are_forgotten() -> None:
    """Never longer than ten minutes; an hour later a place is as new."""
    tries, now, waits = Tries(), 0.0, []
    for _ in range(FREE_TRIES + 8):
        now += waits[-1] if waits else 0
        assert tries.wait_seconds("10.0.0.7", now) == 0
        tries.begin("10.0.0.7", now)
        waits.append(tries.wait_seconds("10.0.0.7", now))
    assert waits[:FREE_TRIES] == [0] * (FREE_TRIES - 1) + [15]
    assert waits[FREE_TRIES:] == [30, 60, 120, 240, 480, 600, 600, 600]
    assert max(waits) == LONGEST_WAIT_SECONDS
    assert tries.wait_seconds("10.0.0.8", now) == 0
    assert tries.wait_seconds("10.0.0.7", now + 3601) == 0


def test_many_wrong_tries_from_everywhere_slow_strangers_and_no_known_device() -> None:
    """Each unknown place then has one free try; nobody has none."""
    tries = Tries()
    for number in range(MANY_WRONG):
        tries.begin(f"10.0.0.{number}", 0.0)
    assert tries.wait_seconds("10.0.1.1", 1.0) == 0
    tries.begin("10.0.1.1", 1.0)
    assert tries.wait_seconds("10.0.1.1", 1.0) == 15
    tries.begin("device 7", 1.0)
    assert tries.wait_seconds("device 7", 1.0) == 0


def test_tries_are_kept_of_so_many_places_only() -> None:
    """The oldest are forgotten: a flood of addresses fills no memory."""
    tries = Tries()
    for number in range(12_000):
        tries.begin(str(number), 0.0)
    assert len(tries._wrong) == 10_000


@pytest.mark.parametrize(
    ("address", "place"),
    [
        ("10.0.0.7", "10.0.0.7"),
        ("2001:db8:1:2:3:4:5:6", "2001:db8:1:2::/64"),
        ("fe80::1%eth0", "fe80::/64"),
        ("", ""),
    ],
)
def test_one_network_of_ipv6_is_one_place(address: str, place: str) -> None:
    """Whoever has one address of it has all."""
    assert place_of(address, "") == place


def test_a_device_is_known_only_by_what_it_was_given() -> None:
    """And under the passphrase of that day only."""
    today, tomorrow = kept(PASSPHRASE), kept("wet oak at midnight")
    token = device_token(today)
    assert device_of(token, today) == token.partition(".")[0]
    for other in ("", ".", "a.b", token + "0", "é.ü", "\ud800.\ud800", token.partition(".")[0]):
        assert device_of(other, today) == ""
    assert device_of(token, tomorrow) == ""


def test_a_shift_goes_on_while_the_machine_sleeps(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A laptop that was shut over night lets nobody in by the evening's visit."""
    sites: list[Site] = []

    async def seen(site: Site, *_: object) -> int:
        sites.append(site)
        return 0

    monkeypatch.setattr(running, "_serve", seen)
    ledger, here = tmp_path / "board.db", listening("127.0.0.1", 0, None, None, ())
    running.serve(here, Passphrase.beside(ledger), ledger, house="Tallow Row", options=(), most=1)
    monkeypatch.setattr(time, "clock_gettime", {time.CLOCK_BOOTTIME: 5.0}.__getitem__)
    assert sites[0].now() == 5.0


def test_of_a_visit_no_token_is_kept() -> None:
    """What is in memory lets nobody in."""
    visits, today = Visits(), kept(PASSPHRASE)
    token = visits.begin(today, 0.0)
    assert visits.of(token, today, 1.0) is not None
    assert visits.of(token + "x", today, 1.0) is None
    assert visits.of("\ud800", today, 1.0) is None
    assert token not in repr(visits)
