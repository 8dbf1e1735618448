"""The command line: reads arguments, calls the pipeline, prints. No rule and no word of a leaflet stands here."""

from leaflets.cli.main import main

__all__ = ["main"]
