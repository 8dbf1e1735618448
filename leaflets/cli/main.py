"""The commands. Exit codes: 0 done, 1 stopped by a finding, 2 the input or the command is wrong."""

import json
import sys
from pathlib import Path
from typing import Any

import click

from leaflets.cli.options import EXAMPLE, clinic_option, json_option
from leaflets.cli.sheet import sheet
from leaflets.cli.words import coverage, words
from leaflets.errors import LeafletError
from leaflets.formats import FORMATS

EXIT_STOPPED = 1
EXIT_WRONG_INPUT = 2

_FORMATS = ", ".join(FORMATS)
_visit = click.argument("visit", type=click.Path(path_type=Path))
_out = click.option(
    "--out",
    type=click.Path(path_type=Path),
    default=Path("out"),
    show_default=True,
    help="The folder for the files; it is made if it is not there.",
)


class _Commands(click.Group):
    """A group whose every command turns a `LeafletError` into one line a problem and exit code 2."""

    def invoke(self, ctx: click.Context) -> Any:  # noqa: ANN401 - click's own signature
        try:
            return super().invoke(ctx)
        except LeafletError as error:
            for problem in error.problems:
                click.echo(str(problem), err=True)
            ctx.exit(EXIT_WRONG_INPUT)


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="leaflets", prog_name="leaflets")
def main() -> None:
    """Make ear-care leaflets from the outcome of a visit, and check each before it is printed."""


@main.command(epilog=f"{EXAMPLE}leaflets make visit.toml --clinic my-clinic --out printed")
@_visit
@clinic_option
@_out
@click.option("--language", help="Instead of what the record says; BCP 47, such as en.")
@click.option("--reader", help="Instead of what the record says: adult, carer, child-5-7 or child-7-11.")
@click.option("--format", "format_", help=f"Instead of what the record says: {_FORMATS}.")
@click.option("--beside", metavar="LANGUAGE", help="Make a page for staff too, with this language beside the reader's.")
@click.option("--practitioner", is_flag=True, help="Make a page for the practitioner too: why, what to ask and record.")
@json_option
def make(
    visit: Path,
    clinic: Path | None,
    out: Path,
    language: str | None,
    reader: str | None,
    format_: str | None,
    beside: str | None,
    practitioner: bool,
    as_json: bool,
) -> None:
    """Make the leaflet of one visit: a PDF to print and the same as one HTML file; for a phone, the HTML alone."""
    from leaflets import pipeline  # noqa: PLC0415 - help and version answer without it
    from leaflets.cli.show import show_result  # noqa: PLC0415

    result = pipeline.make(
        visit,
        clinic=clinic,
        out=out,
        language=language,
        reader=reader,
        format=format_,
        beside=beside,
        practitioner=practitioner,
    )
    if as_json:
        click.echo(json.dumps(result.as_json(), indent=2, ensure_ascii=False))
    else:
        show_result(result)
    sys.exit(EXIT_STOPPED if result.status == "stopped" else 0)


@main.command(epilog=f"{EXAMPLE}leaflets check visit.toml --clinic my-clinic")
@_visit
@clinic_option
@json_option
def check(visit: Path, clinic: Path | None, as_json: bool) -> None:
    """Make the leaflet of one visit and check it, without writing anything."""
    from leaflets import pipeline  # noqa: PLC0415
    from leaflets.cli.show import show_result  # noqa: PLC0415
    from leaflets.standards import judge_standards, standards_as_json  # noqa: PLC0415

    checked = pipeline.check(visit, clinic=clinic)
    result = checked.result
    if as_json:
        standards = None if checked.evidence is None else standards_as_json(judge_standards(checked.evidence))
        click.echo(json.dumps({**result.as_json(), "standards": standards}, indent=2, ensure_ascii=False))
    else:
        show_result(result)
    sys.exit(EXIT_STOPPED if result.status == "stopped" else 0)


@main.command(epilog=f"{EXAMPLE}leaflets explain visit.toml")
@_visit
@clinic_option
@json_option
def explain(visit: Path, clinic: Path | None, as_json: bool) -> None:
    """Say what is given, withheld and asked for a visit, ear by ear, and why."""
    from leaflets import pipeline  # noqa: PLC0415
    from leaflets.cli.show import explanation, show_explanation  # noqa: PLC0415

    explained = pipeline.explain(visit, clinic=clinic)
    if as_json:
        click.echo(json.dumps(explanation(explained), indent=2, ensure_ascii=False))
    else:
        show_explanation(explained)
    sys.exit(EXIT_STOPPED if explained.stopped else 0)


@main.command(epilog=f"{EXAMPLE}leaflets grade words.txt --language en")
@click.argument("file", type=click.Path(allow_dash=True))
@click.option("--language", required=True, help="The language of the text; BCP 47, such as en.")
@click.option("--reader", default="adult", show_default=True, help="Who reads it: adult, carer, child-5-7, child-7-11.")
@click.option("--format", "format_", default="a4", show_default=True, help="How it is printed: a4, easy-read, ….")
@click.option("--second-opinion", is_flag=True, help="Ask the library textstat too; for English, where installed.")
@json_option
def grade(file: str, language: str, reader: str, format_: str, second_opinion: bool, as_json: bool) -> None:
    """Say how hard a plain text is to read, and which words make it so. FILE may be - for standard input."""
    from leaflets.cli.grade import grade_plain_text, read_plain_text  # noqa: PLC0415

    graded = grade_plain_text(
        read_plain_text(file), language, reader=reader, format_=format_, ask_second=second_opinion
    )
    if as_json:
        click.echo(json.dumps(graded.as_json(), indent=2, ensure_ascii=False))
        return
    from leaflets.cli.show_grade import show_grade  # noqa: PLC0415

    show_grade(graded)


@main.command(epilog=f"{EXAMPLE}leaflets schema > visit.schema.json")
def schema() -> None:
    """Print the JSON Schema of the visit record."""
    from leaflets.visit import Visit  # noqa: PLC0415

    document = {"$schema": "https://json-schema.org/draft/2020-12/schema", **Visit.model_json_schema()}
    click.echo(json.dumps(document, indent=2, ensure_ascii=False))


@main.command("new-clinic", epilog=f"{EXAMPLE}leaflets new-clinic my-clinic")
@click.argument("folder", type=click.Path(path_type=Path))
def new_clinic(folder: Path) -> None:
    """Write a clinic's folder, with a clinic.toml that explains each line."""
    from leaflets.clinic import write_new_clinic  # noqa: PLC0415

    path = write_new_clinic(folder)
    click.echo(f"{path} is written. Fill it in, then: leaflets make visit.toml --clinic {folder}")


@main.command(epilog=f"{EXAMPLE}leaflets ready")
@json_option
def ready(as_json: bool) -> None:
    """Say whether this machine can print leaflets, and what to install if not."""
    from leaflets.cli.show import show_parts  # noqa: PLC0415
    from leaflets.ready import ready as look  # noqa: PLC0415

    parts = look()
    if as_json:
        rows = [{"part": part.name, "ok": part.ok, "found": part.found, "remedy": part.remedy} for part in parts]
        click.echo(json.dumps(rows, indent=2, ensure_ascii=False))
    else:
        show_parts(parts)
    sys.exit(0 if all(part.ok for part in parts) else EXIT_WRONG_INPUT)


@main.command(epilog=f"{EXAMPLE}leaflets demo --out out")
@_out
def demo(out: Path) -> None:
    """Make the leaflets of invented visits, with a gallery to look at."""
    from leaflets.cli.demo import make_demo  # noqa: PLC0415

    sys.exit(EXIT_STOPPED if make_demo(out) else 0)


main.add_command(coverage)
main.add_command(sheet)
main.add_command(words)
