"""A feed from a real broker: every message once, whoever is killed or switched off meanwhile."""

import hashlib
import json
import os
import shutil
import signal
import sqlite3
import subprocess
import sys
import time
from base64 import b64encode
from collections import Counter
from datetime import UTC, datetime, timedelta
from pathlib import Path
from threading import Thread

import pytest

from board.commands.feed.broker import BrokerError, Secrets, address, client_id, topic_filter
from board.house.seeds import seed_house
from board.ledger.open import create_ledger
from tests.commands.brokers import MOSQUITTO, OPENSSL, Mosquitto, needed, until

pytestmark = needed("mosquitto", MOSQUITTO)
PROBES = ("north-grate", "south-upper", "walk-in-door")
BEGAN = datetime.now(UTC).replace(microsecond=0) - timedelta(hours=2)


@pytest.fixture
def broker(tmp_path):
    """A broker that runs."""
    folder = tmp_path / "broker"
    folder.mkdir()
    running = Mosquitto(folder)
    running.start()
    yield running
    running.stop()


@pytest.fixture
def house(tmp_path):
    """The demo's house, which keeps everything that is sent, and a ledger of its own."""
    folder = shutil.copytree(seed_house("tallow_row"), tmp_path / "house")
    with (folder / "house.toml").open("a", encoding="utf-8") as out:
        out.write('\n[feed]\nkeep_every = "0 min"\n')
    create_ledger(folder / "board.db", "Tallow Row", "America/Chicago", folder).close()
    return folder


class Feed:
    """One run of `board feed --mqtt` as a program of its own."""

    def __init__(self, house, broker, *more, **environment):
        command = [sys.executable, "-m", "board", "feed", "--mqtt", f"127.0.0.1:{broker.port}", *more]
        known = {**os.environ, "BOARD_LEDGER": str(house / "board.db"), **environment}
        self.before = len(told(house)) if (house / "said.txt").exists() else 0
        self.said = (house / "said.txt").open("a", encoding="utf-8")
        self.process = subprocess.Popen(command, cwd=house, env=known, stderr=self.said)
        self.house = house

    def hears(self):
        """Whether it has been let in by the broker."""
        assert self.process.poll() is None, told(self.house)
        return "connected to" in told(self.house)[self.before :]

    def end(self, how=signal.SIGTERM):
        """Stop it, and give its exit code."""
        self.process.send_signal(how)
        code = self.process.wait(20)
        self.said.close()
        return code


def told(house):
    """What the feeds of a house have said."""
    return (house / "said.txt").read_text("utf-8")


def rows(house, sql="SELECT probe, at, temperature_c FROM fed"):
    """Rows of the ledger, by SQLite alone."""
    with sqlite3.connect(house / "board.db") as db:
        return db.execute(sql).fetchall()


def reading(probe, second, fahrenheit):
    """A message with its own time, and the row it is to become."""
    at = BEGAN + timedelta(seconds=second)
    text = json.dumps({"temperature": fahrenheit, "unit": "F", "time": at.isoformat()})
    row = (probe, at.strftime("%Y-%m-%dT%H:%M:%S.000Z"), round((fahrenheit - 32) / 1.8, 2))
    return (probe, text), row


def test_every_message_is_there_once_whoever_is_killed_or_switched_off(house, broker):
    """The feed killed in mid stream again and again, the broker stopped and started: none lost or twice."""
    wanted = [reading(probe, n, 200 + n % 50) for n in range(200) for probe in PROBES]
    feed = Feed(house, broker)
    until(feed.hears)  # from now on the broker keeps what is sent for this session
    sender = Thread(
        target=broker.publish, args=([message for message, _ in wanted],), kwargs={"pause": 0.005}
    )
    sender.start()
    kills = 0
    while sender.is_alive():
        until(feed.hears)
        time.sleep(0.3 * (1 + kills % 3))
        feed.end(signal.SIGKILL)
        kills += 1
        if kills == 2:
            broker.stop()
            broker.start()
        feed = Feed(house, broker)
    assert kills >= 2
    until(lambda: len(rows(house)) >= len(wanted))
    until(feed.hears)
    assert feed.end() == 0
    assert Counter(rows(house)) == Counter(row for _, row in wanted)


def test_what_was_sent_while_nobody_listened_waits_at_the_broker(house, broker):
    """The session outlives the feed: MQTT 3.1.1, section 3.1.2.4, with Clean Session 0."""
    feed = Feed(house, broker)
    until(feed.hears)
    feed.end()
    (late, row), (other, other_row) = reading("north-grate", 1, 225), reading("north-grate", 2, 226)
    broker.publish([late, other, ("north-grate", "230 F")])
    feed = Feed(house, broker)
    until(lambda: len(rows(house)) == 2)
    until(lambda: rows(house, "SELECT why FROM aside"))
    feed.end()
    assert sorted(rows(house)) == sorted([row, other_row])
    assert "waited at the broker" in rows(house, "SELECT why FROM aside")[0][0], "one without a time"


def test_a_plain_number_by_its_topic_counts_at_its_arrival(house, broker):
    """The simplest probes publish a number to a topic; its unit is in probes.toml."""
    feed = Feed(house, broker)
    until(feed.hears)
    broker.publish([("north-grate", "225.5")])
    until(lambda: rows(house))
    feed.end()
    ((probe, at, celsius),) = rows(house)
    assert (probe, celsius) == ("north-grate", 107.5)
    assert datetime.now(UTC) - datetime.fromisoformat(at) < timedelta(minutes=1)


def test_what_the_broker_retained_is_not_taken_for_now(house, broker):
    """Section 3.3.1.3: a retained message is the last one there was, of whatever time."""
    broker.publish([("north-grate", "225")], retain=True)
    feed = Feed(house, broker)
    until(feed.hears)
    until(lambda: rows(house, "SELECT 1 FROM aside"))
    feed.end()
    assert rows(house) == []


def test_messages_that_are_no_reading_are_set_aside_and_the_feed_goes_on(house, broker):
    """No UTF-8, too large, nested too deep, of an unknown probe: each with its reason, none sent again."""
    feed = Feed(house, broker, "--topic", "#")
    until(feed.hears)
    bad = [b"\xff\xfe225", b"9" * 200_000, b"[" * 9000, b"{}", b"hot", b"", b"\x1b]52;c;x\x07"]
    good, row = reading("north-grate", 5, 240)
    broker.publish([*(("north-grate", payload) for payload in bad), ("porch", "70 F"), good])
    until(lambda: rows(house))
    feed.end()
    assert rows(house) == [row]
    aside = rows(house, "SELECT why, message FROM aside")
    assert len(aside) == len(bad) + 1
    assert not any("\x1b" in text for one in aside for text in one)


def test_a_broker_that_refuses_is_told_in_one_line(house, tmp_path):
    """A wrong password ends the feed with 2; the right one, by the environment alone, is let in."""
    folder = tmp_path / "guarded"
    folder.mkdir()
    (folder / "users").write_text(user("board", "smoke"), encoding="utf-8")
    (folder / "users").chmod(0o600)
    guarded = Mosquitto(folder, ["allow_anonymous false", f"password_file {folder / 'users'}"])
    guarded.start()
    try:
        feed = Feed(house, guarded, BOARD_MQTT_USER="board", BOARD_MQTT_PASSWORD="wrong")
        assert feed.process.wait(20) == 2
        assert "refuses: not authorized" in told(house)
        assert told(house).count("\n") <= 3
        feed = Feed(house, guarded, BOARD_MQTT_USER="board", BOARD_MQTT_PASSWORD="smoke")
        until(feed.hears)
        assert feed.end() == 0
    finally:
        guarded.stop()


def user(name, password):
    """A line of a file of users, PBKDF2 with SHA-512 in 101 rounds, as mosquitto_passwd writes it."""
    salt = b"twelve bytes"
    made = hashlib.pbkdf2_hmac("sha512", password.encode(), salt, 101)
    return f"{name}:$7$101${b64encode(salt).decode()}${b64encode(made).decode()}\n"


@needed("openssl", OPENSSL)
def test_a_broker_that_nobody_vouches_for_is_not_told_anything(house, tmp_path):
    """With TLS a certificate is checked, and the authority that the environment names is trusted."""
    assert OPENSSL, "BOARD_BROKER=required, and there is no openssl to make a certificate with"
    folder = tmp_path / "sealed"
    folder.mkdir()
    made = ("-x509", "-newkey", "rsa:2048", "-nodes", "-days", "2", "-subj", "/CN=localhost")
    named = ("-addext", "subjectAltName=DNS:localhost,IP:127.0.0.1")
    files = ("-keyout", str(folder / "key.pem"), "-out", str(folder / "own.pem"))
    subprocess.run([OPENSSL, "req", *made, *named, *files], check=True, capture_output=True)
    sealed = Mosquitto(
        folder,
        ["allow_anonymous true", f"certfile {folder / 'own.pem'}", f"keyfile {folder / 'key.pem'}"],
    )
    sealed.start()
    try:
        assert Feed(house, sealed, BOARD_MQTT_TLS="yes").process.wait(20) == 2
        assert "cannot be trusted" in told(house)
        feed = Feed(house, sealed, BOARD_MQTT_CA=str(folder / "own.pem"))
        until(feed.hears)
        assert feed.end() == 0
    finally:
        sealed.stop()


@pytest.mark.parametrize(
    ("text", "tls", "shown"),
    [
        ("pi.local", False, "pi.local:1883"),
        ("pi.local", True, "pi.local:8883"),
        ("10.0.0.7:1884", False, "10.0.0.7:1884"),
        ("[fe80::1]", False, "[fe80::1]:1883"),
    ],
)
def test_where_a_broker_is(text, tls, shown):
    """The ports are those of the IANA register, mqtt and secure-mqtt."""
    assert str(address(text, tls=tls)) == shown


@pytest.mark.parametrize(
    "text",
    [
        *("", ":1883", "pi:0", "pi:99999", "pi:x", "a b", "mqtt://pi", "u:p@pi"),
        *("pi..local", "p" * 64, "\udcff"),  # no labels of a name: RFC 1035, 2.3.4
    ],
)
def test_an_address_that_is_none_is_told(text):
    """In one line, and with where a password goes."""
    with pytest.raises(BrokerError, match="allowed HOST or HOST:PORT"):
        address(text, tls=False)


@pytest.mark.parametrize("text", ["a/b", "+/air", "pits/#", "#", "/", "pits/+/air/#"])
def test_filters_of_topics(text):
    """MQTT 3.1.1, 4.7.1: examples of what is valid there."""
    assert topic_filter(text) == text


@pytest.mark.parametrize("text", ["", "sport/tennis#", "sport/tennis/#/ranking", "sport+", "a\x00b"])
def test_filters_that_are_none(text):
    """MQTT 3.1.1, 4.7.1.2 and 4.7.1.3: examples of what is not, and the null character of 4.7.3."""
    with pytest.raises(BrokerError, match="--topic"):
        topic_filter(text)


def test_a_session_has_a_name_that_every_broker_takes():
    """MQTT 3.1.1, 3.1.3.1: 1 to 23 letters and digits must be allowed; another ledger is another session."""
    name = client_id("tallow-row", "/srv/board.db")
    assert len(name) <= 23
    assert name.isalnum()
    assert name != client_id("tallow-row", "/srv/other.db")


def test_who_to_be_is_in_the_environment_alone(tmp_path):
    """And is told where it is half or wrong."""
    authority = tmp_path / "ca.pem"
    authority.write_text("", encoding="utf-8")
    assert Secrets.of({"BOARD_MQTT_CA": str(authority)}).tls
    assert not Secrets.of({}).tls
    for wrong in (
        {"BOARD_MQTT_PASSWORD": "x"},
        {"BOARD_MQTT_CA": str(Path(tmp_path / "none.pem"))},
        {"BOARD_MQTT_TLS": "maybe"},
        {"BOARD_MQTT_USER": "\udcff"},
        {"BOARD_MQTT_USER": "x", "BOARD_MQTT_PASSWORD": "x" * 65_536},
    ):
        with pytest.raises(BrokerError):
            Secrets.of(wrong)
