"""The commands about words: bringing catalogues up to date, checking them, signing them off, sending them out."""

import datetime
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from leaflets.cli.options import EXAMPLE, clinic_option, json_option
from leaflets.errors import LeafletError, did_you_mean

if TYPE_CHECKING:
    from leaflets.content import Content


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


@words.command(epilog=f"{EXAMPLE}leaflets words check ar --clinic my-clinic")
@click.argument("locale")
@clinic_option
@json_option
def check(locale: str, clinic: Path | None, as_json: bool) -> None:
    """Check every translation of a locale: numbers, sides, negations, terms, scripts, marks, and what is missing."""
    from leaflets.cli.show import show_findings  # noqa: PLC0415
    from leaflets.content import load_content  # noqa: PLC0415
    from leaflets.word_checks import check_words  # noqa: PLC0415

    findings = check_words(load_content(clinic), locale)
    if as_json:
        click.echo(json.dumps([finding.as_json() for finding in findings], indent=2, ensure_ascii=False))
    else:
        show_findings(findings)
        click.echo(f"{locale}: {len(findings)} findings")
    sys.exit(1 if any(finding.severity == "stop" for finding in findings) else 0)


@words.command(epilog=f'{EXAMPLE}leaflets words review ar --clinic my-clinic --who "A. Reader" --role "clinical lead"')
@click.argument("locale")
@click.option(
    "--clinic", type=click.Path(path_type=Path), required=True, help="The clinic's folder, where the ledger is kept."
)
@click.option("--who", required=True, help="Your name, as it goes into the ledger.")
@click.option("--role", required=True, help="As what you sign, such as clinical lead.")
@click.option("--block", help="Only the words of this block, such as drops/course; layouts/leaflet for the page.")
def review(locale: str, clinic: Path, who: str, role: str, block: str | None) -> None:
    """Walk through the words of a locale that nobody approved: source, words, what they say, the finished block.

    Each approval is added to the ledger at once. Whoever translated words cannot approve them. LOCALE may be en, for
    the English words themselves.
    """
    from leaflets.cli.review_words import review_words  # noqa: PLC0415
    from leaflets.content import load_content  # noqa: PLC0415

    if not who.strip() or not role.strip():
        raise LeafletError.at("--who, --role", "a name or role is empty", "say who signs, and as what")
    review_words(load_content(clinic), clinic, locale, who.strip(), role.strip(), block)


@words.command(epilog=f"{EXAMPLE}leaflets words export pl to-translate/leaflets.pl.xlf --pictures")
@click.argument("locale")
@click.argument("file", type=click.Path(path_type=Path))
@clinic_option
@click.option("--pictures", is_flag=True, help="Put a picture of each finished English block beside the file.")
def export(locale: str, file: Path, clinic: Path | None, pictures: bool) -> None:
    """Write a file for a translator: every message with its words, where they stand, for whom, and what is critical.

    FILE ends in .xlf (XLIFF 1.2) or .po.
    """
    from leaflets import cldr  # noqa: PLC0415
    from leaflets.content import load_content  # noqa: PLC0415
    from leaflets.exchange import export_words  # noqa: PLC0415
    from leaflets.locale_files import write_bytes  # noqa: PLC0415

    if not cldr.is_known(locale):
        raise LeafletError.at("locale", f"'{locale}' is not a locale that is known", "give its BCP 47 tag, such as fr")
    content = load_content(clinic)
    shown: dict[str, Path] = {}
    if pictures:
        from leaflets.pictures import block_pictures  # noqa: PLC0415

        for block, png in block_pictures(content).items():
            shown[block] = Path("pictures") / f"{block.replace('/', '.')}.png"
            write_bytes(file.parent / shown[block], png)
    write_bytes(file, export_words(content, locale, file, shown))
    click.echo(f"{file} is written")


@words.command(
    epilog=f'{EXAMPLE}leaflets words take pl from-translator.xlf --clinic my-clinic --translator "B. Writer"'
)
@click.argument("locale")
@click.argument("file", type=click.Path(path_type=Path))
@clinic_option
@click.option("--translator", required=True, help="Who translated, by name; whoever it is cannot sign the words off.")
@click.option("--dry-run", is_flag=True, help="Say what would be taken, and change nothing.")
def take(locale: str, file: Path, clinic: Path | None, translator: str, dry_run: bool) -> None:
    """Take back what a translator sent: each message is checked first, and what is not taken is named.

    With --clinic, it goes into that folder; without, into the project's own catalogues.
    """
    from leaflets.cli.show import show_findings  # noqa: PLC0415
    from leaflets.content import load_content, locales_folder  # noqa: PLC0415
    from leaflets.exchange import read_returned, take_words, translated_entries  # noqa: PLC0415
    from leaflets.locale_files import locale_in  # noqa: PLC0415
    from leaflets.signoff import add_to_ledger  # noqa: PLC0415

    if not translator.strip():
        raise LeafletError.at("--translator", "the name is empty", "say who translated")
    content = load_content(clinic)
    returned = read_returned(content, locale, file)
    show_findings(returned.findings)
    if returned.taken and not dry_run:
        now = datetime.datetime.now(datetime.UTC)
        folder = locales_folder() if clinic is None else clinic / "locales"
        take_words(content, locale_in(folder, locale), returned, translator.strip(), now.date())
        if clinic is not None:
            add_to_ledger(clinic, translated_entries(locale, returned, translator.strip(), now))
    refused = len({finding.place for finding in returned.findings if finding.severity == "stop"})
    would = "would be " if dry_run else ""
    click.echo(f"{len(returned.taken)} {would}taken, {returned.unchanged} unchanged, {refused} not taken")
    sys.exit(1 if refused else 0)


@click.command(epilog=f"{EXAMPLE}leaflets coverage --clinic my-clinic --html coverage.html")
@clinic_option
@click.option("--language", multiple=True, help="Only this language; may be given several times.")
@click.option("--html", "page", type=click.Path(path_type=Path), help="Write a page with a heat map to this file.")
@json_option
def coverage(clinic: Path | None, language: tuple[str, ...], page: Path | None, as_json: bool) -> None:
    """Say how far each language is translated and signed off, by kind of leaflet and reader."""
    from rich.console import Console  # noqa: PLC0415

    from leaflets.cli.show_coverage import coverage_page, coverage_table  # noqa: PLC0415
    from leaflets.content import load_content  # noqa: PLC0415
    from leaflets.coverage import coverage_rows  # noqa: PLC0415
    from leaflets.locale_files import write_text  # noqa: PLC0415

    content = load_content(clinic)
    for one in language:
        require_offered(content, one)
    rows = tuple(coverage_rows(content, language or content.languages))
    if page is not None:
        write_text(page, coverage_page(rows))
    if as_json:
        click.echo(json.dumps([row.as_json() for row in rows], indent=2, ensure_ascii=False))
        return
    Console().print(coverage_table(rows))
    if page is not None:
        click.echo(f"{page} is written")


def require_offered(content: "Content", locale: str) -> None:
    """Refuse a language that has no catalogue.

    Raises:
        LeafletError: it has none; with the nearest that have.

    """
    if locale not in content.languages:
        raise LeafletError.at(
            "language", f"there is no catalogue for '{locale}'", did_you_mean(locale, content.languages)
        )
