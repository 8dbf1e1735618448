"""Walking a reviewer through words in the terminal."""

import datetime
from collections.abc import Sequence
from itertools import groupby
from pathlib import Path

import click

from leaflets.catalogue import SOURCE_LANGUAGE
from leaflets.content import Content
from leaflets.errors import LeafletError
from leaflets.review import ToReview, approval, finished_block, to_review
from leaflets.signoff import add_to_ledger

_ANSWERS = click.Choice(["a", "s", "q"])
_QUESTION = "approve (a), skip (s), or stop here (q)"


def review_words(content: Content, clinic: Path, locale: str, who: str, role: str, block: str | None) -> None:
    """Show each message that waits, ask, and add each approval to the ledger at once.

    Raises:
        LeafletError: there is no such catalogue, or the ledger cannot be written.

    """
    waiting = list(to_review(content, locale, block))
    if not waiting:
        click.echo(f"nothing in '{locale}' waits for a sign-off")
        return
    done = 0
    for context, of_block in groupby(waiting, key=lambda one: one.message.key.context):
        _show_block(content, locale, context)
        for one in of_block:
            _show(one, locale)
            answer = click.prompt(_QUESTION, type=_ANSWERS, show_choices=False)
            if answer == "q":
                click.echo(f"{done} approved, {len(waiting) - done} wait")
                return
            if answer == "a":
                done += _approve(content, clinic, locale, one, who, role)
    click.echo(f"{done} approved, {len(waiting) - done} wait")


def _approve(content: Content, clinic: Path, locale: str, one: ToReview, who: str, role: str) -> int:
    try:
        entry = approval(content, locale, one, who, role, datetime.datetime.now(datetime.UTC))
    except LeafletError as error:
        click.echo("\n".join(map(str, error.problems)))
        return 0
    add_to_ledger(clinic, [entry])
    return 1


def _show_block(content: Content, locale: str, context: str) -> None:
    click.echo(f"\n== {context}")
    printed = finished_block(content, locale, context)
    if printed is not None:
        click.echo("As it prints:")
        click.echo("\n".join(f"  | {line}" for line in printed.splitlines()))


def _show(one: ToReview, locale: str) -> None:
    key = one.message.key
    critical = " (safety-critical)" if one.message.safety else ""
    click.echo(f"\n{one.message.places[0]}{critical}")
    click.echo(f"  {SOURCE_LANGUAGE}: {' / '.join(filter(None, key[1:]))}")
    for words, back in zip(one.words, _as_long(one.back, one.words), strict=True):
        click.echo(f"  {locale}: {words}")
        click.echo(f"    that is: {back if back is not None else 'nobody put it back into English'}")
    for finding in one.findings:
        click.echo(f"  {finding}")


def _as_long(back: Sequence[str | None], words: Sequence[str]) -> list[str | None]:
    return [*back, *[None] * (len(words) - len(back))]
