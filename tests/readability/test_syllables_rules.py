"""Syllables of other languages from their spelling: counted by hand, and against independent programs."""

# ruff: noqa: RUF001 - letters of other scripts are what is tried

import re
import unicodedata
from collections.abc import Callable, Collection, Mapping
from importlib import resources
from types import ModuleType
from typing import NamedTuple

import pytest

from leaflets.readability.syllables_rules import SYLLABLE_RULES, count_syllables_by_rule

# Divided by hand, a full stop between syllables, as dictionaries divide them.
BY_HAND = {
    "es": "o.í.do lim.pie.za cui.da.do guion que.rer ver.güen.za dí.a a.gua muy hay rey a.é.re.o in.fec.ción",
    "it": "o.rec.chio a.cqua mi.a cen.to pia.no fi.glio per.ché gua.da.gno al.ler.gi.a chi.rur.gi.a a.zio.ni "
    "più ri.u.sci.re far.ma.ci.a bat.te.ri.a ar.te.ria di.mi.nu.i.re gra.tui.to",
    "de": "Ohr Oh.ren.arzt Pa.ti.ent Fa.mi.li.e bei.ßen Häu.ser Ner.ven neu.e Me.di.en ge.impft be.en.den Qual",
    "nl": "oor oo.ren eeuw.en ne.men moei.lijk zie.ken.huis uur koe.ien pa.ti.ënt meis.je kwa.li.teit",
    "fr": "o.reille eau voi.ture ma.lade é.té qua.li.té hô.pi.tal fièvre lan.guette pied au.di.tion voy.age "
    "pa.tient cli.ent ou.bli.er pa.ys so.leil feuille ac.cueil goût août ac.tuel cru.el paie.ment doivent man.geait",
    "pt": "ou.vi.do não pões mui.to á.gua sa.ú.de ra.i.nha ben.e.fí.cios o.re.lha co.ra.ção qua.tro a.in.da sa.ir "
    "ao ju.iz con.clu.ir in.clu.in.do con.tri.bu.i.ção á.rea",
    "pl": "u.cho dzie.cko nie.go pie.lę.gniar.ka wia.do.mość cia.ło że o.pi.nii",
    "ro": "u.re.che pic.tor a.ceas.tă lupi noap.te ceai co.pii",
    "ru": "у.хо е.го здо.ро.вье ле.кар.ство врач",
    "uk": "ву.хо ї.ї лі.ка.ря об'.єкт здо.ров'.я",
    "tr": "ku.lak i.laç sa.at dok.tor öğ.ret.men a.i.le",
    "hu": "fül or.vos be.teg e.gész.ség fi.a.tal",
    "sv": "ö.ra ö.ron sjuk.hus lä.ka.re Eu.ro.pa o.pe.ra.tion in.fek.tion",
    "da": "ø.re sy.ge.hus læ.ge hø.rel.se au.to.mat o.pe.ra.tion fa.mi.lie pa.ti.ent kli.ent",
    "nb": "ø.re øy.e sy.ke.hus le.ge rei.ser",
    "cy": "clust dŵr gwa.hodd ne.ges gwaith iaith cy.flym",
    "hi": "का.न कृ.प.या र.खें",
    "bn": "কা.ন রা.খু.ন",
}


def by_hand() -> list[tuple[str, str, int]]:
    return [
        (language, divided.replace(".", ""), divided.count(".") + 1)
        for language, line in BY_HAND.items()
        for divided in line.split()
    ]


# Divided, or told to be of so many syllables, by a published account of the language.
BY_GRAMMAR = {
    # Source: J. Morris-Jones, A Welsh Grammar (1913), § 27 on division, §§ 34 to 38 on diphthongs, § 53; and the
    # list of vowels that stay together in New Hart's Rules on Welsh: gloyw.ach, ieu.anc, dan.gos.ol.
    "cy": "gwe.le.dig can.iad tan.wydd can.tref can.tor ca.nu dryc.in cy.ne.fin a.teb ca.nas.ant plen.tyn iâr iech.yd "
    "iôr rho.dio iwrch rho.diwn an.war ad.wen ced.wir gwat.wor gal.wut ed.wyn pe.nwyn.ni iaith teith.iau gwawd "
    "neith.iwr gŵyr dwyn brwyn cwyn clwyd llwybr hwynt cwymp mar.wor ped.war ca.wod mwyn swy.no tyw.yn.nu gweith.iwr "
    "gweith.wyr ceid.wad geir.won hoyw.on glaw.io bud.ron teim.lo treig.lo par.hau myf.yr.iaf myf.yr.iol glan.waith "
    "tan.io gwyr.droi ys.tyr.iaf gloyw.ach ieu.anc dan.gos.ol",
    # Source: the examples of the Romanian Academy's DOOM for vowels that part (5.2.1.1.1) and for final syllables.
    "ro": "al.co.ol fi.in.ță ști.in.ță po.et fa.mi.li.ei du.et po.lu.a.re con.ti.nu.ăm a.fec.tu.os i.re.al le.ul "
    "pom.pi.er fa.ni.on bă.nu.i.se cre.ai ab.sorb.ți.e su.bli.ni.a po.e.zi.e i.de.e în.tot.dea.u.na lu.ăm un.ghi.e "
    "e.xer.ci.țiu ve.chi.tu.ră e.vla.vi.e plo.uă le.oai.că stea.ua",
}


@pytest.mark.parametrize(("language", "word", "syllables"), by_hand())
def test_words_are_counted_as_by_hand(language: str, word: str, syllables: int) -> None:
    assert count_syllables_by_rule(word, language) == syllables


@pytest.mark.parametrize(
    ("language", "wrong"),
    # What the spelling does not tell is wrong: the vowels of some Romanian verbs and agent nouns.
    [("cy", set()), ("ro", {"pompier", "bănuise", "creai"})],
)
def test_words_are_counted_as_grammars_divide_them(language: str, wrong: set[str]) -> None:
    found = {
        divided.replace(".", "")
        for divided in BY_GRAMMAR[language].split()
        if count_syllables_by_rule(divided.replace(".", ""), language) != divided.count(".") + 1
    }
    assert found == wrong


def types_of(text: str, shortest: int = 3) -> list[str]:
    return sorted({word.lower() for word in re.findall(rf"[^\W\d_]{{{shortest},}}", text)})


@pytest.mark.parametrize(
    ("language", "voice", "least"),
    # Least share of types counted alike. it and pt are not here: espeak-ng splits their glides and puts vowels beside
    # r. ro is not here: espeak-ng joins the vowels that its Academy parts, fa-mi-li-e. 0.97, 0.96 and German 0.94 were
    # set before measuring, from figures on other words; cy and fr after measuring: they only keep what was reached.
    [
        ("ru", "ru", 0.97),
        ("uk", "uk", 0.97),
        ("tr", "tr", 0.97),
        ("hu", "hu", 0.97),
        ("pl", "pl", 0.97),
        ("nl", "nl", 0.96),
        ("sv", "sv", 0.96),
        ("nb", "nb", 0.96),
        ("da", "da", 0.96),
        ("de", "de", 0.94),
        ("cy", "cy", 0.96),
        ("fr", "fr-fr", 0.90),
    ],
)
def test_rules_count_as_espeak_says(
    language: str,
    voice: str,
    least: float,
    declaration: Callable[[str], str],
    espeak_syllables: Callable[[list[str], str], list[int]],
) -> None:
    # Source: espeak-ng on the words of the Universal Declaration of Human Rights.
    found = types_of(declaration(language))
    said = espeak_syllables(found, voice)
    alike = sum(count_syllables_by_rule(word, language) == count for word, count in zip(found, said, strict=True))
    assert len(found) > 400
    assert alike / len(found) >= least


MOST_FREQUENT = 10000


def unseen(listed: list[tuple[str, float]]) -> list[tuple[str, float]]:
    """Return the words that judge the rules, without abbreviations, which have no vowel letter.

    The rules were mended with the words of even rank in view, counted from 0. Those of odd rank were not looked at.
    """
    return [
        (word, share) for word, share in listed[1::2] if re.search("[aeiouyæøœ]", unicodedata.normalize("NFD", word))
    ]


class Agreement(NamedTuple):
    """How far our counts agree with a reference.

    Attributes:
        compared: words that the reference has.
        types: share of them counted alike.
        tokens: the same, each word weighted by its frequency.
        bias: ours less the nearest count of the reference, in syllables a word, weighted by frequency.

    """

    compared: int
    types: float
    tokens: float
    bias: float


def agreement(language: str, words: list[tuple[str, float]], expected: Mapping[str, Collection[int]]) -> Agreement:
    compared = alike = 0
    all_share = alike_share = surplus = 0.0
    for word, share in words:
        counts = expected.get(word)
        if not counts:
            continue
        count = count_syllables_by_rule(word, language)
        assert count is not None
        compared += 1
        alike += count in counts
        all_share += share
        alike_share += share * (count in counts)
        surplus += share * min((count - other for other in counts), key=abs)
    return Agreement(compared, alike / compared, alike_share / all_share, surplus / all_share)


# Portuguese -ia, -io and the like after the accent are one syllable or two, both accepted (E. Bechara, Moderna
# gramática portuguesa, 2019; Acordo Ortográfico 1990, base XI): Flesch takes the fewer, these references the more.
LAST_VOWELS_JOIN = re.compile("[áéíóúâêô].*(?<![gq])[eiou][aeo]s?$")


def fewer_accepted(word: str, counts: Collection[int]) -> Collection[int]:
    return {count - 1 for count in counts} if LAST_VOWELS_JOIN.search(word) else counts


# What a formula of the Flesch family makes of a bias: 84.6 points of ease for a syllable a word. Two points at most.
LARGEST_BIAS = 2 / 84.6


@pytest.mark.parametrize(
    ("language", "types", "tokens", "least_compared"),
    # Expected before the rules were mended: what a first set of simple rules had reached against these lexicons, on the
    # 5,000 most frequent words: it 0.85 of types and 0.88 of running text, pt 0.80 and 0.88, fr 0.90 and 0.94,
    # sv 0.96 and 0.98. Asked for here: that, or two points less than the words of even rank reached after it (it 0.964
    # and 0.975, pt 0.973 and 0.992, fr 0.954 and 0.975, sv 0.982 and 0.991), whichever is more. Much of the rest is the
    # lexicons' own: words cut off, full vowels for glides. Italian stress, which parts vowels, is not written.
    [("it", 0.94, 0.955, 1800), ("pt", 0.95, 0.97, 4000), ("fr", 0.93, 0.955, 4000), ("sv", 0.96, 0.98, 1800)],
)
def test_rules_count_as_pronouncing_lexicons_say(
    language: str,
    types: float,
    tokens: float,
    least_compared: int,
    lexicon: Callable[[str], Mapping[str, frozenset[int]]],
    frequent_words: Callable[[str, int], list[tuple[str, float]]],
) -> None:
    # Source: the lexicons of gruut.
    listed = unseen(frequent_words(language, MOST_FREQUENT))
    said = lexicon(language)
    expected: dict[str, Collection[int]] = {word: said[word] for word, _ in listed if word in said}
    if language == "pt":
        expected = {word: fewer_accepted(word, counts) for word, counts in expected.items()}
    found = agreement(language, listed, expected)
    assert found.compared > least_compared
    assert found.types >= types
    assert found.tokens >= tokens
    assert abs(found.bias) <= LARGEST_BIAS


def test_portuguese_is_counted_as_an_independent_program_counts(
    reference_module: Callable[[str], ModuleType], frequent_words: Callable[[str, int], list[tuple[str, float]]]
) -> None:
    # Source: silabificador. Set after measuring: two points less than the words of even rank reached, 0.995 and 0.990.
    syllabify = reference_module("silabificador").syllabify
    listed = unseen(frequent_words("pt", MOST_FREQUENT))
    expected = {word: fewer_accepted(word, {len(syllabify(word))}) for word, _ in listed}
    found = agreement("pt", listed, expected)
    assert found.types >= 0.975
    assert found.tokens >= 0.97
    assert abs(found.bias) <= LARGEST_BIAS


@pytest.mark.parametrize(
    ("language", "types", "tokens"),
    # ro was set before the rules were mended: what the first set of rules had reached. da and nb were set after
    # measuring: two points less than the words of even rank reached, 0.964 and 0.985, 0.993 and 0.970.
    [("ro", 0.90, 0.95), ("da", 0.94, 0.965), ("nb", 0.97, 0.95)],
)
def test_rules_count_frequent_words_as_espeak_says(
    language: str,
    types: float,
    tokens: float,
    frequent_words: Callable[[str, int], list[tuple[str, float]]],
    espeak_syllables: Callable[[list[str], str], list[int]],
) -> None:
    # Source: espeak-ng.
    listed = unseen(frequent_words(language, MOST_FREQUENT // 2))
    said = espeak_syllables([word for word, _ in listed], language)
    expected = {word: {count} for (word, _), count in zip(listed, said, strict=True)}
    found = agreement(language, listed, expected)
    assert found.compared > 2000
    assert found.types >= types
    assert found.tokens >= tokens


def test_spanish_is_counted_as_an_independent_program_counts(reference_module: Callable[[str], ModuleType]) -> None:
    # Source: pylabeador, on the Spanish word list of textstat; Roman numerals and words that it refuses are left out.
    syllabify = reference_module("pylabeador").syllabify
    listed = (resources.files("textstat") / "resources" / "es" / "easy_words.txt").read_text(encoding="utf-8").split()
    right = compared = 0
    for word in listed:
        if re.fullmatch("[a-záéíóúüñ]{2,}", word) and not re.fullmatch("[ivxlc]+", word):
            try:
                expected = len(syllabify(word))
            except Exception:  # noqa: BLE001, S112 - it refuses foreign spellings in several ways
                continue
            compared += 1
            right += expected == count_syllables_by_rule(word, "es")
    assert compared > 15000
    assert right / compared >= 0.995


@pytest.mark.parametrize("language", sorted(SYLLABLE_RULES))
def test_the_way_of_writing_a_letter_changes_nothing(language: str) -> None:
    for divided in BY_HAND[language].split():
        word = divided.replace(".", "")
        count = count_syllables_by_rule(word, language)
        assert count_syllables_by_rule(unicodedata.normalize("NFD", word), language) == count
        assert count_syllables_by_rule(word.replace("'", "\u2019"), language) == count
        assert count_syllables_by_rule(word.capitalize(), language) == count


def test_hyphens_join_and_other_scripts_and_languages_have_no_count() -> None:
    assert count_syllables_by_rule("nord-est", "it") == 2
    assert count_syllables_by_rule("ear", "ru") is None
    assert count_syllables_by_rule("ухо", "es") is None
    assert count_syllables_by_rule("أذن", "ar") is None
    assert count_syllables_by_rule("øre", "no") == count_syllables_by_rule("øre", "nn") == 2
