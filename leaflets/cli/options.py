"""Options that several commands take."""

from pathlib import Path

import click

EXAMPLE = "\b\nExample:\n  "

clinic_option = click.option(
    "--clinic",
    type=click.Path(path_type=Path),
    envvar="LEAFLETS_CLINIC",
    help="The clinic's folder. Without it, the invented example clinic, with a mark on every page.",
)
json_option = click.option("--json", "as_json", is_flag=True, help="Print the result for a program.")
