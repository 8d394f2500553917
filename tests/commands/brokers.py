"""A real broker for tests: mosquitto, as Debian has it, on a port of its own, its sessions on disk."""

import os
import shutil
import socket
import subprocess
import time
from collections.abc import Iterable
from pathlib import Path

import pytest
from paho.mqtt.client import Client
from paho.mqtt.enums import CallbackAPIVersion

MOSQUITTO = shutil.which("mosquitto") or shutil.which("mosquitto", path="/usr/sbin:/usr/local/sbin")
OPENSSL = shutil.which("openssl")
PATIENCE_SECONDS = 20.0


def needed(name: str, program: str | None) -> pytest.MarkDecorator:
    """Skips where there is no such program, but not where the environment says that there must be."""
    missing = program is None and os.environ.get("BOARD_BROKER") != "required"
    return pytest.mark.skipif(missing, reason=f"no {name} on this machine")


class Mosquitto:
    """One broker; `stop` and `start` again as a machine that is switched off and on."""

    def __init__(self, folder: Path, more: Iterable[str] = ()) -> None:
        self.folder = folder
        self.port = free_port()
        config = [
            f"listener {self.port} 127.0.0.1",
            "user root",  # as which it must run to write its sessions where a test's folder belongs to root
            "persistence true",
            f"persistence_location {folder}/",
            "autosave_interval 1",
            "autosave_on_changes true",
            *(more or ("allow_anonymous true",)),
        ]
        (folder / "mosquitto.conf").write_text("\n".join(config), encoding="utf-8")
        self._process: subprocess.Popen[bytes] | None = None

    def start(self) -> None:
        """Start it, and wait until it listens."""
        assert MOSQUITTO, "BOARD_BROKER=required, and there is no mosquitto"
        command = [MOSQUITTO, "-c", str(self.folder / "mosquitto.conf")]
        self._process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        until(self._listens)

    def stop(self) -> None:
        """Stop it; it writes down what it keeps for others."""
        if self._process is not None:
            self._process.terminate()
            self._process.wait(PATIENCE_SECONDS)
            self._process = None

    def publish(
        self, messages: Iterable[tuple[str, str | bytes]], *, retain: bool = False, pause: float = 0.0
    ) -> None:
        """Publish messages at least once each, and wait until the broker has them all."""
        client = Client(CallbackAPIVersion.VERSION2)
        client.max_queued_messages_set(0)
        there: list[int] = []
        client.on_publish = lambda _, __, number, *___: there.append(number)
        client.connect("127.0.0.1", self.port)
        client.loop_start()
        sent = [self._publish(client, topic, payload, retain, pause) for topic, payload in messages]
        until(lambda: len(there) == len(sent))
        client.disconnect()
        client.loop_stop()

    @staticmethod
    def _publish(client: Client, topic: str, payload: str | bytes, retain: bool, pause: float) -> None:
        client.publish(topic, payload, 1, retain)  # kept by the client while the broker is away
        time.sleep(pause)

    def _listens(self) -> bool:
        with socket.socket() as trying:
            return trying.connect_ex(("127.0.0.1", self.port)) == 0


def free_port() -> int:
    """A port nobody listens on."""
    with socket.socket() as any_port:
        any_port.bind(("127.0.0.1", 0))
        return int(any_port.getsockname()[1])


def until(is_so: object) -> None:
    """Wait until something is so; fail when it never is."""
    end = time.monotonic() + PATIENCE_SECONDS
    while not is_so():
        assert time.monotonic() < end, "waited in vain"
        time.sleep(0.02)
