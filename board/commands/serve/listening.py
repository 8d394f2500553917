"""Where may be listened: on this machine alone, or further with TLS; and what this machine is called."""

import re
import ssl
from collections.abc import Sequence
from dataclasses import dataclass
from ipaddress import ip_address
from pathlib import Path
from socket import gethostname

from board.errors import BoardError

_NAME = re.compile(r"[A-Za-z0-9]([A-Za-z0-9-]*[A-Za-z0-9])?(\.[A-Za-z0-9]([A-Za-z0-9-]*[A-Za-z0-9])?)*")
_HOST = re.compile(r"(?P<name>\[[0-9A-Fa-f:.]+\]|[A-Za-z0-9._-]+)(:\d{1,5})?")


@dataclass(frozen=True, slots=True)
class Listening:
    """An address and a port, the names by which browsers may ask for them, and TLS where it is spoken."""

    host: str
    port: int
    names: tuple[str, ...]
    tls: ssl.SSLContext | None = None

    def address(self, port: int) -> str:
        """What to type into a browser, with the port that was taken."""
        host = self.names[0] if self.tls and self.names else self.host
        host = f"[{host}]" if ":" in host else host
        return f"{'https' if self.tls else 'http'}://{host}:{port}"

    def is_meant(self, host: str) -> bool:
        """Whether a request's Host is this machine: an address in figures, localhost, or a name given.

        Any other name may be a stranger's that leads here, with his page behind it (DNS rebinding).
        """
        name = name_of(host)
        return is_address(name) or name == "localhost" or name in self.names


def listening(
    host: str, port: int, certificate: Path | None, key: Path | None, names: Sequence[str]
) -> Listening:
    """Where to listen.

    Raises:
        BoardError: beyond this machine without TLS, or something that is no address, name or certificate.
    """
    if not (is_address(host) or _NAME.fullmatch(host)):
        raise BoardError(f"--host: found '{host[:60]}', allowed an address such as 192.168.1.20, or a name")
    for name in names:
        if not _NAME.fullmatch(name):
            raise BoardError(f"--name: found '{name[:60]}', allowed a name such as kitchen.lan")
    if (certificate is None) != (key is None):
        raise BoardError("--certificate and --key go together; give both, or neither")
    tls = _tls(certificate, key) if certificate and key else None
    if tls is None and not is_here(host):
        raise BoardError(
            f"--host {host}: without TLS anyone in the network can read the passphrase; give --certificate"
            " and --key, or keep to 127.0.0.1, behind a proxy with TLS"
        )
    known = [*names, *([] if is_address(host) else [host]), *([gethostname()] if tls else [])]
    return Listening(host, port, tuple(name.lower() for name in known), tls)


def name_of(host: str) -> str:
    """The name or the address in a request's Host; empty where it is neither."""
    found = _HOST.fullmatch(host)
    return found["name"].strip("[]").rstrip(".").lower() if found else ""


def is_address(text: str) -> bool:
    """Whether it is an address in figures."""
    try:
        ip_address(text)
    except ValueError:
        return False
    return True


def is_here(host: str) -> bool:
    """Whether it is this machine alone that is reached there."""
    return ip_address(host).is_loopback if is_address(host) else host.lower() == "localhost"


def _tls(certificate: Path, key: Path) -> ssl.SSLContext:
    for option, path in (("--certificate", certificate), ("--key", key)):
        if not path.is_file():
            raise BoardError(f"{option}: found no file {path}, allowed a file in PEM")
    context = ssl.create_default_context(ssl.Purpose.CLIENT_AUTH)
    try:
        context.load_cert_chain(certificate, key, password="")  # one that is locked is refused
    except (ssl.SSLError, OSError, ValueError) as error:
        raise BoardError(
            f"--certificate {certificate}, --key {key}: {getattr(error, 'reason', None) or error}; allowed a"
            " certificate in PEM and its own key without a passphrase"
        ) from None
    return context
