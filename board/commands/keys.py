"""`board keys`: every act with its keys, what was changed, and what is wrong with that."""

from pathlib import Path

import click

from board.commands.options import ledger_option

_WIDE = 20  # columns of an act's id


@click.command("keys")
@click.option("--press", is_flag=True, help="Show what each key pressed arrives as; Ctrl+Q ends it.")
@ledger_option
def command(*, press: bool, ledger: Path | None) -> None:
    """List every act with its keys, and check those that were changed.

    A house changes keys in keys.toml beside its files, a machine in its settings file, both under [keys]:

        undo = "f9"

        plan = "g, ctrl+g"

    Ends with 2 when something is wrong with the changes; the board then has its own keys.
    """
    if press:
        from board.commands.opening_up import has_screen  # noqa: PLC0415

        if not has_screen():
            raise click.UsageError("--press needs a terminal; without it the acts are listed")
        from board.app.pressing import Pressing  # noqa: PLC0415 - the list needs no screen

        Pressing().run()
        return
    from board.app.keymap import keymap_of  # noqa: PLC0415 - help needs no acts
    from board.app.keys import SCOPES  # noqa: PLC0415
    from board.app.settled import settle  # noqa: PLC0415

    keymap = keymap_of(_folder(ledger), settle({}).settings)
    for scope, acts in SCOPES.items():
        click.echo(scope.capitalize())
        for act in keymap.acts(acts):
            changed = "  (changed)" if act.id in keymap.changes else ""
            click.echo(f"  {act.id:{_WIDE}}  {act.shown_keys:10}  {act.tip}{changed}")
    for fault in keymap.faults:
        click.echo(f"board: {fault}", err=True)
    if keymap.faults:
        click.get_current_context().exit(2)


def _folder(flag: Path | None) -> Path:
    """The house's folder: of the ledger where there is one, else this one."""
    from board.ledger.open import open_ledger  # noqa: PLC0415 - help needs no ledger
    from board.ledger.where import ledger_path  # noqa: PLC0415

    path = ledger_path(flag)
    if not path.exists() and flag is None:
        return Path.cwd()
    from board.app.keymap import folder_of  # noqa: PLC0415

    with open_ledger(path) as ledger:
        return folder_of(ledger) or Path.cwd()
