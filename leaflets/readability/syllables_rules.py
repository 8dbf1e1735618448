"""Syllables of a word of a language other than English, from its spelling.

Each rule first rewrites what the spelling hides (silent letters, vowels that part), then counts the nuclei. For Hindi
and Bengali it counts akshara, the written syllables, which is what the formulas for them ask for. Sources: the spelling
of each language as its grammars describe it, common practice; tests hold the accuracy against independent programs.
Where the spelling does not tell (Italian and Romanian "ia", French final "ent"), a rule is wrong now and then.
"""

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from types import MappingProxyType

_LATIN = "A-Za-z\u00aa-\u024f\u1e00-\u1eff\u0300-\u036f"
_CYRILLIC = "\u0400-\u052f\u0300-\u036f"
_DEVANAGARI = "\u0900-\u097f"
_BENGALI = "\u0980-\u09ff"

_SEPARATORS = re.compile("[-'\u2010\u2011\u2019\u02bc\u00b7\\d.&]+")
_INVISIBLE = dict.fromkeys(map(ord, "\u00ad\u200c\u200d\u2060\ufeff"))


@dataclass(frozen=True, slots=True)
class SyllableRule:
    """How the spelling of one language tells its syllables.

    Attributes:
        letters: the script, as the inside of a character class; a word with other letters has no count.
        nucleus: one match for each syllable, after the rewriting.
        rewriting: pattern and replacement, applied in order to the word in lower case.

    """

    letters: str
    nucleus: str
    rewriting: tuple[tuple[str, str], ...] = ()


# The capital letters I, U, Y in a rewriting mark a vowel that stands alone whatever is beside it.
SYLLABLE_RULES: Mapping[str, SyllableRule] = MappingProxyType(
    {
        "bn": SyllableRule(_BENGALI, "(?<!\u09cd)[\u0985-\u09b9\u09dc-\u09e1]"),
        "cy": SyllableRule(
            _LATIN,
            "ae|ai|au|aw|ei|eu|ew|ey|iw|oe|oi|ou|ow|uw|wy|yw|[aeiouwyâêîôûŵŷáéíóúàèìòùïëöü]",
            (
                ("(?<![aeiouwyâêîôûŵŷ])i(?=[aeouwâêôûŵ])", ""),  # iaith, ceiniog
                ("^(g?)w(?=[aeiâêîy]|[lrn][aeiouy])", r"\1"),  # gwaith, gwlad
            ),
        ),
        "da": SyllableRule(_LATIN, "au|eu|[aeiouyæøåéèêáàüöäóô]"),
        "de": SyllableRule(
            _LATIN,
            "aa|ee|oo|äu|au|eu|ei|ai|ie|ey|ay|oy|[aeiouäöüyáàâéèêíîóôúû]",
            (
                ("qu", "k"),
                ("(?<![aeiouäöü])y(?=[aeou])", "j"),
                ("^(un)?([bg]e)(?=e(?:i[nlg]|hr|nd|rb)|imp|irr|inhalt|inn)", r"\1\2-"),  # ge-impft
                ("(famil|bakter|^stud|^fol|^lin|^präm)ie", r"\1i-e"),
                ("(?<=..[lrdntp])ien(?=s?$)", "i-en"),  # Medien, Ferien
                ("(?<=[tl])ient", "i-ent"),  # Patient
            ),
        ),
        "es": SyllableRule(
            _LATIN,
            "u?í|i?ú|[iu]?[aeoáéóàèò][iu]?|[iu]+",
            (
                ("qu", "k"),
                ("gu(?=[eiéí])", "g"),
                ("ü", "u"),
                ("y(?![aeiouáéíóú])", "i"),
                ("(?<=[aeiouáéíóú])h(?=[aeiouáéíóú])", ""),  # a silent h parts no vowels: prohi-bir
            ),
        ),
        "fr": SyllableRule(
            _LATIN,
            "eau|oeu|œu|ieu|oui|ou[aeé]|oi|oy|ou|ai|aî|ay|ei|ey|au|eu|eû|uy|i[oaeéè]|u[iaéè]|[aeiouyàâæéèêëîïôœùûüÿ]",
            (
                ("qu", "k"),
                ("gu(?=[eiéèê])", "g"),
                ("(?<![aeou])y(?=[aeou])", "j"),
                ("(?<=..)(?<=[aeiouyéî])ent$", ""),  # voient
                ("([aeiouyàâéèêëîïôûùœ][a-zç]*)es?$", r"\1"),  # a last e is silent where another vowel is said
            ),
        ),
        "hi": SyllableRule(_DEVANAGARI, "(?<!\u094d)[\u0904-\u0939\u0958-\u0961]"),
        "hu": SyllableRule(_LATIN, "[aáeéiíoóöőuúüű]"),
        "it": SyllableRule(
            _LATIN,
            "[iu]?[aeoàèéòó][iu]?|[ìíùú]|[iu]+|I",
            (
                ("qu", "k"),
                ("(?<=log|raf|pat|nom|rap|att|erg|urg)i(?=[ae]$)", "I-"),  # al-ler-gi-a
                ("^([^aeiouàèéìòù]*)([iu])(?=[aeo]$)", r"\1\2-"),  # mi-a, su-o, du-e
                ("(?<=[cg])i(?=[aou])", ""),
                ("gli(?=[aeou])", "l"),
                ("y", "i"),
            ),
        ),
        "nb": SyllableRule(_LATIN, "øy|ei|au|eu|[aeiouyæøåéèêóòôàüöä]"),
        "nl": SyllableRule(
            _LATIN,
            "eau|aai|ooi|oei|eeu|ieu|aa|ee|oo|uu|ie|oe|eu|ui|ei|ij|au|ou|[aeiouyäëïöüáéèêóúíàâîôû]",
            (("qu", "k"), ("(?<![aeiou])y(?=[aeou])", "j")),
        ),
        "pl": SyllableRule(_LATIN, "[aąeęioóuyé]", (("i(?=[aąeęioóuy])", ""),)),
        "pt": SyllableRule(
            _LATIN,
            "ã[oe]|õe|[aeoáéóâêôãõà](?:[iuy](?!nh|n[cdfgjkpqstvxz]|[rlzm]$))?|ui(?!nh|[rlzm]$)|iu|[iuyíú]i?",
            (
                ("qu", "k"),
                ("gu(?=[eiéíê])", "g"),
                ("gu(?=[aoáâ])", "g"),
                ("([áéíóúâêô].*)[iu](?=[aeo]s?$)", r"\1"),
            ),  # be-ne-fí-cios
        ),
        "ro": SyllableRule(
            _LATIN,
            "iii|ii|eai|eau|iau|oai|ioa|ea|oa|ia|ie|io|iu|ua|uă|ai|ei|oi|ui|au|eu|ou|ăi|ău|âi|îi|[aeiouăâîy]",
            (
                ("(?<=[cg])h?[ei](?=[aou])", ""),
                # A final i after one consonant only softens it; after consonant and l or r it is spoken.
                ("(?<=[aeiouăâî][bcdfgjlmnprsștțvz])i$|(?<=[aeiouăâî][nrlst][cdfgjmnpștțz])i$", ""),
            ),
        ),
        "ru": SyllableRule(_CYRILLIC, "[аеёиоуыэюя]"),
        "sv": SyllableRule(_LATIN, "au|eu|[aeiouyåäöéèêáàü]"),
        "tr": SyllableRule(_LATIN, "[ae\u0131ioöuüâîû]"),
        "uk": SyllableRule(_CYRILLIC, "[аеєиіїоуюя]"),
    }
)
"""By base language. Every language here is counted from its spelling; no other language has a count, English apart."""

SPELLED_ALIKE: Mapping[str, str] = MappingProxyType({"no": "nb", "nn": "nb"})


class _Compiled:
    """A rule made ready, with a memory of its own for the words of its language."""

    def __init__(self, rule: SyllableRule) -> None:
        self._letters = re.compile(f"[{rule.letters}]+")
        self._nucleus = re.compile(rule.nucleus)
        self._rewriting = tuple((re.compile(pattern), replacement) for pattern, replacement in rule.rewriting)
        self.count = lru_cache(maxsize=8192)(self._count)

    def _count(self, word: str) -> int | None:
        total = 0
        for part in _SEPARATORS.split(unicodedata.normalize("NFC", word.translate(_INVISIBLE))):
            if not part:
                continue
            if not self._letters.fullmatch(part):
                return None
            small = unicodedata.normalize("NFC", part.replace("İ", "i").lower())
            for pattern, replacement in self._rewriting:
                small = pattern.sub(replacement, small)
            total += len(self._nucleus.findall(small))
        return max(1, total)


@cache
def _compiled(language: str) -> _Compiled | None:
    rule = SYLLABLE_RULES.get(SPELLED_ALIKE.get(language, language))
    return None if rule is None else _Compiled(rule)


def count_syllables_by_rule(word: str, language: str) -> int | None:
    """Count the syllables of a word, at least 1; a hyphenated word is the sum of its parts.

    `language` is a base language, as "es". None: the language has no rule, or the word has letters of another script.

    >>> [count_syllables_by_rule(word, "es") for word in ("oído", "limpieza", "guion")]
    [3, 3, 1]
    >>> count_syllables_by_rule("ear", "ru") is None
    True

    """
    compiled = _compiled(language)
    return None if compiled is None else compiled.count(word)
