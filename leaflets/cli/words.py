"""The commands about words: bringing catalogues up to date, checking them, signing them off, sending them out."""

import datetime
from pathlib import Path

import click

from leaflets.cli.options import EXAMPLE, clinic_option
from leaflets.errors import LeafletError


@click.group()
def words() -> None:
    """Keep the words of leaflets: catalogues, checks of translations, sign-off, files for translators."""


@words.command(epilog=f"{EXAMPLE}leaflets words update --new fr")
@clinic_option
@click.option(
    "--new", multiple=True, metavar="LOCALE", help="Make a catalogue for this locale too; BCP 47, such as fr."
)
def update(clinic: Path | None, new: tuple[str, ...]) -> None:
    """Bring the template and every catalogue up to date with the templates; nothing translated is lost.

    With --clinic, the catalogues in that folder; without, those of the project.
    """
    from leaflets import cldr  # noqa: PLC0415 - help answers without it
    from leaflets.compose.messages import source_messages  # noqa: PLC0415
    from leaflets.content import load_content, locales_folder  # noqa: PLC0415
    from leaflets.locale_files import update_locales  # noqa: PLC0415

    for locale in new:
        if not cldr.is_known(locale):
            raise LeafletError.at(
                "--new", f"'{locale}' is not a locale that is known", "give its BCP 47 tag, such as fr"
            )
    content = load_content(clinic)
    folder = locales_folder() if clinic is None else clinic / "locales"
    changed = update_locales(folder, source_messages(content.words), datetime.date.today(), new)  # noqa: DTZ011 - the user's own day
    for path in changed:
        click.echo(f"{path} is up to date")
    if not changed:
        click.echo("everything was up to date")
