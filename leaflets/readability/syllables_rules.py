"""Syllables of a word of a language other than English, from its spelling.

Each rule first rewrites what the spelling hides (silent letters, vowels that part), then counts the nuclei. For Hindi
and Bengali it counts akshara, the written syllables, which is what the formulas for them ask for. Where a language
accepts two divisions, the shorter counts, as in Flesch's counting: Portuguese "-ia" after the accent. Sources: the
spelling of each language as its grammars describe it, common practice; for Welsh J. Morris-Jones, A Welsh Grammar,
1913; for Romanian its Academy's DOOM; for Portuguese E. Bechara, Moderna gramática portuguesa, 2019. Tests hold the
accuracy against independent programs and lexicons.
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
            "ayw|oyw|ŵy|ae|[aáâ][iu]|aw|ei|eu|ew|ey|iw|oe|[oóô]i|ou|ow|uw|wy|yw|[aeiouwyâêîôûŵŷáéíóúàèìòùïëöü]",
            (
                ("(?<![aeiouwyâêîôûŵŷ])i(?=[aeouwâêôûŵ])|(?<=[ae]w)i(?=[ao])", ""),  # iaith, ceiniog
                ("(?<=ch)w(?=[aei])|(?<=[aeiouwyâêîôûŵŷ][bcdfglnrst])w(?=[aeiou])", ""),  # chwech, ped-war
                ("(?<=[aeiouy](?:th|dd))w(?=[aeiou])", ""),  # caeth-was
                ("^(g?)w(?=[aeiâêîy]|[lrn][aeiouy])", r"\1"),  # gwaith, gwlad
            ),
        ),
        "da": SyllableRule(
            _LATIN,
            "au|eu|[aeiouyæøåéèêáàüöäóô]",
            # The i is no vowel in opera-tion, fa-mi-lie, Spa-nien.
            (("(?<=[st])i(?=on)|(?<=[dlnr])i(?=e$)|(?<!^kl)(?<=[ln])i(?=en)", ""),),
        ),
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
            "oui|ou(?:ai|[aeé])|aoû|i?(?:eau|oeu|œu|ou|oi|oy|oû|ai|aî|ay|ei|ey|au|eu|eû|[oaeéè])"
            "|u(?:eu|i|a|é|è|e(?=[lnrt]))|uy|[aeiouyàâæéèêëîïôœùûüÿ]",
            (
                ("qu", "k"),
                ("gu(?=[eiéèê])", "g"),
                ("ge(?=[aoâô])", "g"),  # man-geait
                ("(?<![aeou])y(?=[aeou])", "j"),
                ("^pay(?=s)", "pa-i"),  # pa-ys
                ("oeil", "œil"),
                ("(?<=[aeouœ])il(?=s?$|l[aeéèio])", "l"),  # soleil, feuille: the i is no vowel
                ("(?<=[aiouyé])e(?=ments?$)", ""),  # paie-ment
                ("(?<=..)(?<!^cli)(?<=[aeiouyéî])ent$", ""),  # voient
                ("(?:(?<=nn|ss|is|us|iv)|(?<=[ae]tt|euv))ent$", ""),  # prennent, doivent: verbs all
                ("([aeiouyàâéèêëîïôûùœ][a-zç]*)es?$", r"\1"),  # a last e is silent where another vowel is said
                ("([bcdfgptv][lr][iu])(?=[aeéèo])", r"\1-"),  # ou-bli-er, cru-el
            ),
        ),
        "hi": SyllableRule(_DEVANAGARI, "(?<!\u094d)[\u0904-\u0939\u0958-\u0961]"),
        "hu": SyllableRule(_LATIN, "[aáeéiíoóöőuúüű]"),
        "it": SyllableRule(
            _LATIN,
            "[iu]?[aeoàèéòó][iu]?|i?[ùú]|[ìí]|[iu]+|I",
            (
                ("qu", "k"),
                # The stress that parts them is not written: the endings that have it, and common words.
                ("(?<!mater)(?<!arter)(?<!miser)(?<!^fer)(?<!^ser)(?<=er)i(?=[ae]$)", "I-"),  # bat-te-ri-a
                ("(?<=log|raf|pat|nom|rap|att|erg|urg|rch|tes|nem|cem|ops)i(?=[ae]$)", "I-"),  # al-ler-gi-a
                ("(?<=rmac|scop|iatr|ranz|genz|uliz|foll|rmon|pagn|ttav)i(?=[ae]$)", "I-"),  # far-ma-ci-a
                ("^([^aeiouàèéìòù]*)([iu])(?=[aeo]$)", r"\1\2-"),  # mi-a, su-o, du-e
                ("(?<=[cg])i(?=[aouòóù])", ""),
                ("gli(?=[aeouòóù])", "l"),
                ("^ri(?=[aeou])", "ri-"),  # ri-e-sce
                ("(?<!grat)(?<!fort)(?<=[bdlmnrstv])ui(?=re$|r[aàeòo]|t[aeio]$|sc)", "uI"),  # co-stru-i-re
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
            "ã[oe]|õe|[aeoáéóâêôãõà](?:[iuy](?!nh|n[cdfgjkpqstvxz]|[rlzm]$))?"
            "|ui(?!nh|n[cdfgjkpqstvxz]|[rlzm]$|ç)|iu|[iuyíú]",
            (
                ("qu", "k"),
                ("gu(?=[aeioáéíâê])", "g"),
                ("^ao(?=s?$)", "au"),
                ("([áéíóúâêô].*)[eiou](?=[aeo]s?$)", r"\1"),  # be-ne-fí-cios: accepted both ways, the shorter counts
            ),
        ),
        "ro": SyllableRule(
            _LATIN,
            "iii|ii|eai|eau|iau|oai|ioa|ea|oa|ia|ie|io|iu|ua|uă|ai|ei|oi|ui|au|eu|ou|ăi|ău|âi|îi|[aeiouăâîyU]",
            (
                ("^aic", "a-ic"),
                ("(?<=[bcdfghjklmnprstvzșț])i(?=e$|ei$|a$|al|ul|in)", "i-"),  # fa-mi-li-e, so-ci-al
                ("ii(?=i$)", "i-i"),  # co-pi-ii
                ("^(i?re(?=a[lc])|cre(?=a(?:[tr]|$)))", r"\1-"),
                ("(?<=[bdflmnprstvzț])i(?=oa?[^aeiouăâî])", "i-"),  # mi-li-oa-ne
                ("(?<=[bcdfhjklmnprstvzșț])u(?=[aă])", "u-"),  # ac-tu-al
                ("(?<=[aeă])u(?=[bcdfghjklmnprstvzșț])", "U"),  # ca-u-ză
                ("(?<=[cg])h?[ei](?=[aou])", ""),
                # A final i after one consonant only softens it; after consonant and l or r it is spoken.
                ("(?<=[aeiouăâî][bcdfgjlmnprsștțvz])i$|(?<=[aeiouăâî][nrlst][cdfgjmnpștțz])i$", ""),
            ),
        ),
        "ru": SyllableRule(_CYRILLIC, "[аеёиоуыэюя]"),
        "sv": SyllableRule(
            _LATIN,
            "au|eu|[aeiouyåäöéèêáàü]",
            (("(?<=[st])i(?=on)", ""),),  # opera-tion: the i is no vowel
        ),
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
