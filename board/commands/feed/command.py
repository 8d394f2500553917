"""The options of `board feed`, and the feed that they ask for."""

import sys
from collections.abc import Mapping
from pathlib import Path
from socket import gethostname
from threading import Event
from typing import TYPE_CHECKING, Any

import click

from board.commands.backing import backed_up
from board.commands.feed.placing import place, strike
from board.commands.feed.saying import say
from board.commands.feed.showing import aside, status
from board.commands.open_board import house_of
from board.commands.options import ledger_option
from board.errors import BoardError
from board.house.model import House
from board.house.probes import Probe
from board.ledger import typed
from board.ledger.one_feed import one_feed
from board.ledger.open import open_ledger
from board.ledger.where import ledger_path

if TYPE_CHECKING:
    from board.commands.feed.running import Source


@click.group("feed", invoke_without_command=True)
@click.option("--stdin", is_flag=True, help="Take messages from standard input, a line each.")
@click.option("--csv", type=click.Path(path_type=Path), help="Take the rows of a CSV file.")
@click.option("--follow", is_flag=True, help="Go on with the rows still to come to that file.")
@click.option("--mqtt", metavar="HOST[:PORT]", help="Take the messages of an MQTT broker.")
@click.option("--topic", "topics", multiple=True, metavar="TOPIC", help="Listen to this [the probes' names].")
@click.option("--probe", metavar="NAME", help="Whose readings they are, where neither row nor message says.")
@click.option("--as", "name", metavar="NAME", help="What this feed is called [stdin, or the file's name].")
@ledger_option
@click.pass_context
def command(ctx: click.Context, /, *, ledger: Path | None, **asked: Any) -> None:
    """Take in what probes send, until they end or Ctrl-C is pressed.

    \b
    board feed --stdin                       messages such as: north-grate 225 F
    board feed --csv pit.csv --follow        a file that a logger adds rows to
    board feed --mqtt pi.local               a broker, to which the probes publish
    board feed place meat-1 1219-brisket-1   a probe was put into a load (or: out)
    """
    given = [name for name, value in {"ledger": ledger, **asked}.items() if value]
    if ctx.invoked_subcommand is None:
        _feed(ledger_path(ledger), **asked)
    elif given:
        raise BoardError(f"--{given[0]} goes after {ctx.invoked_subcommand}, or not with it at all")


for _one in (place, strike, aside, status):
    command.add_command(_one)


def _feed(
    ledger: Path,
    *,
    stdin: bool,
    csv: Path | None,
    follow: bool,
    mqtt: str | None,
    topics: tuple[str, ...],
    probe: str | None,
    name: str | None,
) -> None:
    """Feed from the one source that is asked for, and say at the end what became of it."""
    if [stdin, csv is not None, mqtt is not None].count(True) != 1:
        raise BoardError("say where the messages come from: --stdin, --csv FILE, or --mqtt HOST")
    if follow and csv is None:
        raise BoardError("--follow goes with --csv FILE; leave it out")
    if topics and mqtt is None:
        raise BoardError("--topic goes with --mqtt HOST; leave it out")
    if probe and mqtt is not None:
        raise BoardError(
            "--probe does not go with --mqtt: a topic says whose readings they are; leave it out"
        )
    from board.commands.feed.intake import Intake  # noqa: PLC0415 - help needs none of it
    from board.commands.feed.running import feed, told_to_stop  # noqa: PLC0415

    usual = f"mqtt {mqtt}" if mqtt else f"csv {csv.name}" if csv else "stdin"
    called = typed.name(name or usual[: typed.LONGEST_NAME], "this feed (--as)")
    with told_to_stop() as stop, backed_up(open_ledger(ledger)) as opened, one_feed(ledger, called):
        house = house_of(opened)
        intake: Intake[Any] = Intake(opened, house, called)
        whose = _known(intake.named, probe)
        if mqtt is not None:
            source = _broker(mqtt, topics or tuple(intake.named), house, ledger)
        else:
            source = _source(csv, intake.named, stop, follow=follow, probe=whose)
        try:
            feed(intake, source, stop)
        finally:
            intake.ledger.close()
            say(f"{called}: {intake.counts.sentence()}")


def _broker(host: str, topics: tuple[str, ...], house: House, ledger: Path) -> "Source[Any]":
    from board.commands.feed.broker import Broker, Secrets, address, client_id, topic_filter  # noqa: PLC0415
    from board.commands.feed.mqtt import Mqtt  # noqa: PLC0415

    secrets = Secrets.of()
    at = address(host, tls=secrets.tls)
    if secrets.password and not secrets.tls and not at.is_here:
        say(f"the password goes to {at} for all on the way to read; BOARD_MQTT_TLS=yes hides it")
    session = client_id(house.id, f"{gethostname()} {ledger.resolve()}")
    return Mqtt(Broker(at, [topic_filter(topic) for topic in topics], secrets, session))


def _source(
    csv: Path | None, named: Mapping[str, Probe], stop: Event, *, follow: bool, probe: str | None
) -> "Source[None]":
    if csv is not None:
        from board.commands.feed.csv_feed import CsvFeed  # noqa: PLC0415

        return CsvFeed(csv, named, stop, follow=follow, probe=probe)
    from board.commands.feed.pipe import Pipe  # noqa: PLC0415

    if sys.stdin is None:  # closed by the shell, as in `board feed --stdin <&-`
        raise BoardError("--stdin: standard input is closed; leave it open, or name a file with --csv")
    return Pipe(sys.stdin.fileno(), probe)


def _known(named: Mapping[str, Probe], probe: str | None) -> str | None:
    """The name under which a probe is sent, by that or by its id."""
    if not named:
        raise BoardError("the house has no probes; name them in probes.toml (docs/probes.md)")
    if probe is None or probe in named:
        return probe
    found = next((name for name, one in named.items() if one.id == probe), None)
    if found is None:
        raise BoardError(f"there is no probe {probe}; the probes are {', '.join(named)}")
    return found
