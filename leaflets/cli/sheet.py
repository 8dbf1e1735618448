"""The command `leaflets sheet`: a prevention leaflet by topic, or a pack for a school class."""

import json
import sys
from pathlib import Path

import click

from leaflets.cli.options import EXAMPLE, clinic_option, json_option
from leaflets.errors import LeafletError

SCHOOL = "school"
_EXIT_STOPPED = 1
_EXAMPLE = "leaflets sheet school --band 5-7 --language pl --beside en --class-size 24 --seed autumn --out printed"


@click.command(epilog=f"{EXAMPLE}{_EXAMPLE}")
@click.argument("topic")
@clinic_option
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    default=Path("out"),
    show_default=True,
    help="The folder for the files; it is made if it is not there.",
)
@click.option("--language", help="BCP 47, such as pl. Without it, the clinic's own.")
@click.option("--beside", metavar="LANGUAGE", help="A second language on the same sheet.")
@click.option("--country", help="ISO 3166, such as GB: it sets the emergency numbers. Without it, the clinic's own.")
@click.option("--paper", help="a4 or letter. Without it, the clinic's own.")
@click.option("--band", help="School: the age of the children, 5-7 or 7-11.")
@click.option("--class-size", type=int, help="School: how many different pages of activities, 1 to 60.")
@click.option("--seed", help="School: any text; the same seed makes the same pages again.")
@json_option
def sheet(
    topic: str,
    clinic: Path | None,
    out: Path,
    language: str | None,
    beside: str | None,
    country: str | None,
    paper: str | None,
    band: str | None,
    class_size: int | None,
    seed: str | None,
    as_json: bool,
) -> None:
    """Make a sheet for everybody, without a visit. TOPIC is one of those of prevention leaflets, or school."""
    from leaflets import school, sheets  # noqa: PLC0415 - help answers without it
    from leaflets.cli.show import show_sheet  # noqa: PLC0415

    if topic == SCHOOL:
        if band is None:
            raise LeafletError.at("--band", "is missing", "say how old the children are: 5-7 or 7-11")
        result = school.make_school_pack(
            band,
            language=language,
            beside=beside,
            class_size=class_size,
            seed=seed,
            country=country,
            paper=paper,
            clinic=clinic,
            out=out,
        )
    else:
        of_schools = {"--band": band, "--class-size": class_size, "--seed": seed}
        if (given := [name for name, value in of_schools.items() if value is not None]) and topic:
            raise LeafletError.at(
                given[0], "is for a school pack alone", "leave it out, or ask for: leaflets sheet school"
            )
        result = sheets.make_sheet(
            topic, language=language, beside=beside, country=country, paper=paper, clinic=clinic, out=out
        )
    if as_json:
        click.echo(json.dumps(result.as_json(), indent=2, ensure_ascii=False))
    else:
        show_sheet(result)
    sys.exit(_EXIT_STOPPED if result.status == "stopped" else 0)
