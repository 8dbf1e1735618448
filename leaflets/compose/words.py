"""Templates: one a block, with a TOML header and words of its own for each reader."""

import datetime
import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any, Literal, get_args

from jinja2 import (
    DictLoader,
    Environment,
    StrictUndefined,
    Template,
    TemplateError,
    TemplateNotFound,
    TemplateSyntaxError,
)

from leaflets.errors import LeafletError, Problem, did_you_mean
from leaflets.rules.toml import TableReader, TomlFile

Section = Literal["today", "help", "now", "expect", "care", "next"]
SECTIONS: tuple[Section, ...] = get_args(Section)

_HEADER = re.compile(r"\A\s*\{#(.*?)#\}", re.DOTALL)
_KEYS = frozenset({"section", "priority", "safety", "main", "graded", "source", "reviewed", "owner"})
_BLOCKS = "blocks/"
_SCHOOL = "school/"
_TEMPLATES = "templates/"
_SHARED_FOLDERS = ("layouts/", "macros/")
LEAFLET_LAYOUT = "layouts/leaflet.html"
"""The page of a leaflet of a visit."""
CHILDS_LAYOUT = "layouts/child.html"
"""The page of a child, which addresses it as a child."""


@dataclass(frozen=True)
class BlockWords:
    """The words of one block.

    Attributes:
        id: `topic/name`, from the file's place.
        section: where on the page it stands.
        priority: 1 to 99; when a leaflet grows too long the lowest goes first.
        safety: it is never left out.
        main: how strongly it claims the leaflet's one main message; None: it has none to offer.
        graded: whether its words are prose that readability is judged on; false for lines of an address.
        readers: the readers that it has words for, as names of Jinja blocks.
        place: the template's path, from the top of the project.

    """

    id: str
    section: Section
    priority: int
    safety: bool
    main: int | None
    graded: bool
    source: str
    reviewed: datetime.date
    readers: frozenset[str]
    place: str
    template: Template


@dataclass(frozen=True)
class Words:
    """All templates of a project and a clinic.

    Attributes:
        blocks: by id.
        sheets: the parts of a school pack, by id: `school/name`; no rule gives them.
        sources: each template's text by its path below `templates/`.
        places: where a template stands, by that path, where it is a clinic's own.

    """

    environment: Environment
    blocks: Mapping[str, BlockWords]
    sources: Mapping[str, str]
    places: Mapping[str, str] = field(default_factory=dict)
    sheets: Mapping[str, BlockWords] = field(default_factory=dict)

    def words_of(self, block_id: str) -> BlockWords | None:
        """Return the words of a block or of a part of a school pack. None: there is no such template."""
        return self.blocks.get(block_id) or self.sheets.get(block_id)

    def place(self, path: str) -> str:
        """Return where a template stands, as messages show it."""
        return self.places.get(path, f"{_TEMPLATES}{path}")

    @property
    def shared_contexts(self) -> tuple[str, ...]:
        """The contexts of messages that are written in no block: layouts first, then macros; without a child's."""
        shared = sorted(path for path in self.sources if path.startswith(_SHARED_FOLDERS) and path.endswith(".html"))
        return tuple(context_of(path) for path in shared if path != CHILDS_LAYOUT)

    @property
    def childs_contexts(self) -> tuple[str, ...]:
        """The same for a child, whose own come first."""
        return (context_of(CHILDS_LAYOUT), *self.shared_contexts)


def context_of(path: str) -> str:
    """Return the context of the messages of a template, by its path below `templates/`.

    >>> context_of("blocks/drops/course.html"), context_of("macros/help.html")
    ('drops/course', 'macros/help')

    """
    return path.removeprefix(_BLOCKS).removesuffix(".html")


def reader_block(reader: str) -> str:
    """Return the name of the Jinja block that holds a reader's words.

    >>> reader_block("child-5-7")
    'child_5_7'

    """
    return reader.replace("-", "_")


def render_template(words: Words, path: str, values: Mapping[str, object]) -> str:
    """Return a layout or figure with its values in place. `path`: below `templates/`.

    Raises:
        LeafletError: the template does not exist, or asks for what there is not; with its line.

    """
    with _faults_of_templates(path):
        template = words.environment.get_template(path)
        return "".join(template.root_render_func(template.new_context(dict(values))))


def render_words(block: BlockWords, name: str, values: Mapping[str, object]) -> str:
    """Return one of the Jinja blocks of a block's template: a reader's words, or a reader's main message.

    Raises:
        LeafletError: there are no such words, or they ask for what there is not; with the template's line.

    """
    render = block.template.blocks.get(name)
    if render is None:
        raise LeafletError.at(block.place, f"has no words for this reader ({name})", f"write {{% block {name} %}}")
    with _faults_of_templates(block.place.removeprefix(_TEMPLATES)):
        return "".join(render(block.template.new_context(dict(values)))).strip()


def lists_in(words: Words, path: str, name: str) -> Any:  # noqa: ANN401 - as the template writes it
    """Return what a template sets under a name, such as a list of messages with their answers, not yet put into words.

    Raises:
        LeafletError: the template does not exist, or does not set it.

    """
    with _faults_of_templates(path):
        module = words.environment.get_template(path).make_module({"N_": lambda message: message})
        return getattr(module, name)


@contextmanager
def _faults_of_templates(path: str) -> Iterator[None]:
    """Turn what goes wrong while a template is rendered into an error at the template's own line."""
    try:
        yield
    except (TemplateError, LeafletError, TypeError, ValueError, ArithmeticError, LookupError, AttributeError) as error:
        place = _place_in_template(error, path)
        if isinstance(error, LeafletError):
            problems = [Problem(place, problem.message, problem.hint) for problem in error.problems]
            raise LeafletError(problems) from error
        if isinstance(error, TemplateNotFound):
            raise LeafletError.at(
                place, f"names the template '{error.name}', which does not exist", "correct it"
            ) from error
        message = f"cannot be put into words: {error}"
        raise LeafletError.at(place, message, "see DEVELOPERS.md, 'A block', for what a template may use") from error


def _place_in_template(error: BaseException, path: str) -> str:
    """Return `templates/path:line` of the innermost template that was being rendered."""
    place = f"{_TEMPLATES}{path}"
    trace = error.__traceback__
    while trace is not None:
        template = trace.tb_frame.f_globals.get("__jinja_template__")
        if isinstance(template, Template):
            place = f"{_TEMPLATES}{template.name}:{template.get_corresponding_lineno(trace.tb_lineno)}"
        trace = trace.tb_next
    return place


def parse_words(
    templates: Mapping[str, str], places: Mapping[str, str] = MappingProxyType({})
) -> tuple[Words, list[Problem]]:
    """Parse all templates, by their path below `templates/`. `places`: where those stand that are a clinic's own.

    Returns the words that are whole, and all that is wrong with the others.
    """
    environment = Environment(
        loader=DictLoader(dict(templates)),
        autoescape=True,
        undefined=StrictUndefined,
        extensions=["jinja2.ext.i18n"],
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
        cache_size=-1,
    )
    environment.policies["ext.i18n.trimmed"] = True
    environment.newstyle_gettext = True  # type: ignore[attr-defined]  # set by the extension
    blocks: dict[str, BlockWords] = {}
    sheets: dict[str, BlockWords] = {}
    problems: list[Problem] = []
    for path, text in templates.items():
        try:
            template = environment.get_template(path)
        except TemplateSyntaxError as error:
            broken = error.name or path
            name = f"{places.get(broken, f'{_TEMPLATES}{broken}')}:{error.lineno}"
            problems.append(Problem(name, f"is not a template: {error.message}", "mend the tag"))
            continue
        if path.startswith((_BLOCKS, _SCHOOL)) and path.endswith(".html"):
            block = _parse_block(path, places.get(path, f"{_TEMPLATES}{path}"), text, template, problems)
            if block is not None:
                (sheets if path.startswith(_SCHOOL) else blocks)[block.id] = block
    return Words(environment, blocks, dict(templates), dict(places), sheets), problems


def _parse_block(path: str, name: str, text: str, template: Template, problems: list[Problem]) -> BlockWords | None:
    header = _HEADER.match(text)
    if header is None:
        problems.append(Problem(f"{name}:1", "has no header", "start with {# section = … #}, see DEVELOPERS.md"))
        return None
    before = len(problems)
    try:
        file = TomlFile.parse(name, header[1])
    except LeafletError as error:
        problems.extend(error.problems)
        return None
    reader = TableReader(file, (), dict(file.data), _KEYS, problems)
    section = next((known for known in SECTIONS if known == reader.get("section")), None)
    if section is None:
        reader.fault(
            ("section",), "section is not one of its values", did_you_mean(str(reader.get("section")), SECTIONS)
        )
    priority = reader.number("priority")
    source, reviewed = reader.text("source"), reader.date("reviewed")
    reader.text("owner")
    main = reader.number("main") if reader.get("main") is not None else None
    graded = reader.get("graded") is not False
    safety = reader.flag("safety")
    if len(problems) > before or section is None or priority is None or source is None or reviewed is None:
        return None
    readers = frozenset(block for block in template.blocks if not block.endswith("_main"))
    block_id = path.removeprefix(_BLOCKS).removesuffix(".html")
    problems.extend(
        Problem(name, f"claims the main message but has no block {block}_main", "write it, or take out `main`")
        for block in sorted(readers)
        if main is not None and f"{block}_main" not in template.blocks
    )
    return BlockWords(
        id=block_id,
        section=section,
        priority=int(priority),
        safety=safety,
        main=None if main is None else int(main),
        graded=graded,
        source=source,
        reviewed=reviewed,
        readers=readers,
        place=name,
        template=template,
    )
