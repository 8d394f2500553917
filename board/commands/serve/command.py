"""The options of `board serve`: where it listens, who may come, and the passphrase itself."""

from pathlib import Path

import click

from board.commands.options import ledger_option, screen_flags, screen_options

PORT = 8421
MOST = 8


@click.command("serve")
@click.option("--host", metavar="ADDRESS", default="127.0.0.1", help="Listen there [127.0.0.1].")
@click.option("--port", type=click.IntRange(0, 65535), default=PORT, help=f"0 takes a free one [{PORT}].")
@click.option("--certificate", type=click.Path(path_type=Path), help="For https: a certificate in PEM.")
@click.option("--key", type=click.Path(path_type=Path), help="For https: its private key in PEM.")
@click.option("--name", "names", multiple=True, metavar="NAME", help="A name this machine is called by.")
@click.option("--most", type=click.IntRange(1, 64), default=MOST, help=f"So many boards at once [{MOST}].")
@click.option("--passphrase", is_flag=True, help="Set the passphrase that lets in, and end.")
@screen_options
@ledger_option
@click.pass_context
def command(
    ctx: click.Context,
    /,
    *,
    host: str,
    port: int,
    certificate: Path | None,
    key: Path | None,
    names: tuple[str, ...],
    most: int,
    passphrase: bool,
    ledger: Path | None,
    **_: object,
) -> int:
    """Show the board of this house in browsers, until Ctrl-C is pressed.

    \b
    board serve --passphrase                 set first what lets in
    board serve                              then http://127.0.0.1:8421, on this machine alone
    board serve --host 0.0.0.0 --certificate c.pem --key k.pem --name kitchen.lan
                                             https for tablets in the same network
    """
    from board.commands.open_board import house_of, ledger_meant  # noqa: PLC0415 - help needs no ledger
    from board.commands.opening_up import person_meant  # noqa: PLC0415
    from board.commands.serve.listening import listening  # noqa: PLC0415
    from board.commands.serve.passphrase import Passphrase, ask_new  # noqa: PLC0415

    with ledger_meant(ledger) as found:
        path, house = found.path.resolve(), house_of(found)
        person_meant(house, screen_flags(ctx).get("who", ""), strict=True)
    kept = Passphrase.beside(path)
    if passphrase:
        kept.set(ask_new(house.name))
        click.echo("the passphrase is set; whoever was let in by another one gives it anew")
        return 0
    where = listening(host, port, certificate, key, names)
    kept.check()
    from board.commands.serve.process import words  # noqa: PLC0415
    from board.commands.serve.running import serve  # noqa: PLC0415

    options = words(screen_flags(ctx))
    return serve(where, kept, path, house=house.name, options=options, most=most)
