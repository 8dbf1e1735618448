"""Syllables of an English word that no list holds: from its relatives, its parts, or its letters, in that order.

Every function asks a `known` look-up for the counts of other words, so that the rules can be tried with words taken
out of the list. The accuracy of the rules alone is held by a test.
"""

import re
from collections.abc import Callable

Known = Callable[[str], int | None]
"""Syllables of a word in lower case from a list, or None where the list does not hold it."""

_ENDS_IN_SIBILANT = re.compile(r"(?:[sxz]|[cs]h|[cgsz]e|che|she|dge)$")
_SYLLABIC_LE = re.compile(r"[^aeiouywlr]le$")  # "settle": the -le is a syllable until a vowel follows
_ENDS_IN_T_OR_D = re.compile(r"[td]e?$")

# Endings and the syllables that they add to the word, longer ones first, with what they may have replaced in it.
# A final y that gives way to a vowel of the ending takes its own syllable with it: "biology", "biologist".
_SUFFIXES: tuple[tuple[str, tuple[tuple[str, int], ...]], ...] = (
    ("lessness", (("", 2),)),
    ("fulness", (("", 2),)),
    ("ability", (("able", 2), ("", 4), ("e", 4))),
    ("ically", (("ic", 1),)),
    ("ation", (("ate", 1), ("", 2), ("e", 2))),
    ("ician", (("ic", 1),)),
    ("iness", (("y", 1),)),
    ("ness", (("", 1),)),
    ("less", (("", 1),)),
    ("ment", (("", 1),)),
    ("ship", (("", 1),)),
    ("hood", (("", 1),)),
    ("wards", (("", 1),)),
    ("ward", (("", 1),)),
    ("like", (("", 1),)),
    ("some", (("", 1),)),
    ("fully", (("", 2),)),
    ("ful", (("", 1),)),
    ("able", (("", 2), ("e", 2), ("ate", 1))),
    ("ably", (("", 2), ("e", 2))),
    ("ible", (("", 2), ("e", 2))),
    ("ally", (("al", 1),)),
    ("ily", (("y", 1),)),
    ("ly", (("", 1),)),
    ("iest", (("y", 1),)),
    ("ier", (("y", 1),)),
    ("est", (("", 1), ("e", 1))),
    ("er", (("", 1), ("e", 1))),
    ("or", (("", 1), ("e", 1))),
    ("ism", (("", 2), ("e", 2), ("y", 1))),
    ("ist", (("", 1), ("e", 1), ("y", 0))),
    ("ise", (("", 1), ("e", 1), ("y", 0))),
    ("ize", (("", 1), ("e", 1), ("y", 0))),
    ("ising", (("", 2), ("e", 2), ("y", 1))),
    ("izing", (("", 2), ("e", 2), ("y", 1))),
    ("ical", (("", 2), ("y", 1), ("ic", 1))),
    ("ics", (("", 1), ("e", 1), ("y", 0))),
    ("ic", (("", 1), ("e", 1), ("y", 0))),
    ("ion", (("", 1), ("e", 1))),
    ("ian", (("", 2), ("y", 1))),
    ("al", (("", 1), ("e", 1))),
    ("ity", (("", 2), ("e", 2))),
    ("ive", (("", 1), ("e", 1))),
    ("ish", (("", 1), ("e", 1))),
    ("en", (("", 1), ("e", 1))),
    ("y", (("", 1), ("e", 1))),
)

# What stands before a whole word, and its syllables.
_PREFIXES: dict[str, int] = {
    prefix: syllables
    for syllables, prefixes in (
        (1, "non pre post re un sub mis dis out co de in im trans mid down up back mac mc ear eye wax"),
        (2, "micro macro anti over under hyper hypo inter intra extra neuro gastro ultra multi super auto endo"),
        (2, "psycho thermo semi chemo para tele haemo hemo naso photo nitro retro hydro pharma myco onco patho"),
        (2, "mono poly nephro counter cyto crypto ortho thrombo bio broncho arthro peri after water"),
        (3, "cardio dermato electro physio immuno radio osteo audio laparo tympano stereo video haemato hemato"),
        (3, "entero cerebro oto laryngo"),
    )
    for prefix in prefixes.split()
}
_LONGEST_PREFIX_FIRST = sorted(_PREFIXES, key=len, reverse=True)
# Words of three letters that join with another to one word; any other three letters are mostly chance.
_SHORT_PART_LIST = """
air all any arm bag bar bed box boy car cup day dog ear eye eyed gum gun hay head hip hot ice ink jaw key leg lip man
men net off oil old one out pad pan pay pen pin pot red rib run sea set sun tax tea tip toe top war wax way
"""
_SHORT_PARTS = frozenset(_SHORT_PART_LIST.split())

# The patterns from here on are for few words: left to `re` to compile when the first of these words comes.

# British spelling -> the American one that the list is likelier to hold.
_BRITISH_SPELLINGS = (
    (r"[ao]e", "e"),
    (r"our(?=s?$|ed|ing|ful|less|able|it|ite)", "or"),
    (r"is(?=e[sdr]?$|ers$|ing$|ation)", "iz"),
    (r"ys(?=e[sdr]?$|ing$)", "yz"),
    (r"tre(?=s?$)", "ter"),
    (r"bre(?=s?$)", "ber"),
    (r"ll(?=ed$|ing$|ers?$)", "l"),
    (r"l(?=ment)", "ll"),
    (r"ogue(?=s?$)", "og"),
    (r"ence(?=s?$)", "ense"),
    (r"ph", "f"),
)


def plural_or_possessive(word: str, known: Known) -> int | None:
    """Syllables of `word` from the word without its -s, -es, -'s or other short ending, or None.

    >>> plural_or_possessive("nurse's", {"nurse": 1}.get)
    2

    """
    for ending, added in (("'s", None), ("s'", None), ("'ll", 1), ("'ve", 1), ("'re", 1), ("'d", 0)):
        if word.endswith(ending):
            stem = word[: -len(ending)]
            count = known(stem)
            if count is None:
                continue
            if added is None:
                return count + (1 if _ENDS_IN_SIBILANT.search(stem) else 0)
            return count + added
    if word.endswith("ies") and (count := known(word[:-3] + "y")) is not None:
        return count
    if len(word) > 3 and word.endswith("s") and not word.endswith("ss"):
        if (count := known(word[:-1])) is not None:
            return count + (1 if _ENDS_IN_SIBILANT.search(word[:-1]) else 0)
        if word.endswith("es") and (count := known(word[:-2])) is not None:
            return count + (1 if _ENDS_IN_SIBILANT.search(word[:-2]) else 0)
    return None


def _verb_form(word: str, known: Known) -> int | None:
    if word.endswith("ied"):
        return known(word[:-3] + "y")
    if word.endswith("ed"):
        for stem in _stems(word[:-2]):
            if (count := known(stem)) is not None:
                return count + (1 if _ENDS_IN_T_OR_D.search(stem) else 0)
    if word.endswith("ing"):
        for stem in _stems(word[:-3]):
            if (count := known(stem)) is not None:
                return count + (0 if _SYLLABIC_LE.search(stem) else 1)
    return None


def _stems(cut: str) -> tuple[str, ...]:
    """Return what a word may have been before its ending was added: as it is, undoubled, with a final e."""
    if len(cut) < 3:
        return ()
    if cut[-1] == cut[-2] and len(cut) > 3:
        return (cut, cut[:-1], cut + "e")
    return (cut, cut + "e")


def _suffixed(word: str, known: Known) -> int | None:
    for suffix, replaced in _SUFFIXES:
        cut = word[: -len(suffix)]
        if not word.endswith(suffix) or len(cut) < 3 or (suffix[0] in "aeiouy" and cut[-1] in "aeiouy"):
            continue
        for letters, syllables in replaced:
            stem = cut + letters
            count = known(stem)
            if count is None and not letters and cut[-1] == cut[-2] and suffix[0] in "aeiouy":
                stem = cut[:-1]
                count = known(stem) if len(stem) > 2 else None
            if count is not None:
                return count + syllables - (1 if suffix[0] in "aeiouy" and _SYLLABIC_LE.search(stem) else 0)
    return None


def from_relatives(word: str, known: Known) -> int | None:
    """Syllables of `word` from a known word that it is an inflection, derivation or spelling of, or None.

    >>> from_relatives("dizziness", {"dizzy": 2}.get)
    3
    >>> from_relatives("tumour", {"tumor": 2}.get)
    2

    """
    for rule in (plural_or_possessive, _verb_form, _suffixed):
        if (count := rule(word, known)) is not None:
            return count
    for pattern, replacement in _BRITISH_SPELLINGS:
        american = re.sub(pattern, replacement, word)
        if american != word:
            if (count := known(american)) is not None:
                return count
            if (count := plural_or_possessive(american, known)) is not None:
                return count
    return None


def from_parts(word: str, known: Known) -> int | None:
    """Syllables of `word` as a prefix and a known word, or as two known words, or None.

    >>> from_parts("eardrum", {"drum": 1}.get)
    2

    """
    for prefix in _LONGEST_PREFIX_FIRST:
        rest = word[len(prefix) :]
        if not word.startswith(prefix) or len(rest) < 4:
            continue
        count = known(rest)
        if count is None and len(rest) > 4:
            count = plural_or_possessive(rest, known)
        if count is None and len(rest) > 4:
            count = _verb_form(rest, known)
        if count is not None:
            return count + _PREFIXES[prefix]
    best: tuple[int, int] | None = None
    for cut in range(3, len(word) - 2):
        left, right = word[:cut], word[cut:]
        shorter = min(len(left), len(right))
        if shorter == 3 and not (left in _SHORT_PARTS or right in _SHORT_PARTS):
            continue
        if best is not None and shorter <= best[0]:
            continue
        first, second = known(left), known(right)
        if first is not None and second is not None:
            best = (shorter, first + second)
    return best[1] if best else None


_VOWELS = r"[aeiouy]+"

# Where the letters of one run of vowels are said as two syllables.
_ONE_MORE = r"""(?x)
    i[ao](?!n|us|l\b|u)       # dial, bio; not nation, social, anxious
    | (?<![cgstxz])i(?=an|ous)(?<!ll)(?<!nn)
    | ^[^aeiouy]*i(?=[ao][nu])  # lion
    | [aiy]sms?\b | thms?\b    # spasm, rhythm
    | (?<![gp])eo(?![nu]) | geo(?=[gmpst])
    | (?<=\w\w)[eo]a\b         # cornea, apnoea
    | [aeiouy]ing\b
    | i(?=u) | u(?=um|us|ou)
    | (?<![gq])u(?=[ao](?!r))   # sexual, fluoride
    | (?<![gq])ue(?=n[ct]|l\b)
    | (?<![gqb])u(?=it[yi])
    | e(?=um\b|us\b)
    | i(?=e(?:ty|nce|nt))(?<![cst]i)
    | [aeiou](?=y[aeiou][^s])   # player, royal
    | a(?=o)
    | ^mc
"""
# Where a run of vowels at the end or before a known ending is not said.
_ONE_FEWER = r"""(?x)
    (?<![aeiouyl])(?<![bcdfgptkv]r)e\b
    | (?<=[aeiouylrw])le\b | (?<=[qg])ue\b
    | (?<![aeioudt])(?<![bcdfgkptz]l)ed\b
    | (?<![aeiouszcxhg])(?<![bcdfgkptz]l)es\b
    | (?<=[^aeiouyl])e(?=(?:ly|ment|ments|ful|less|ness|some|ville|man|wood|land|ford|field)\b)
"""


def from_letters(word: str) -> int:
    """Syllables of `word` guessed from its letters alone, at least 1.

    >>> from_letters("rhythm"), from_letters("settle"), from_letters("bathed")
    (2, 2, 1)

    """
    word = word.partition("'")[0]
    count = len(re.findall(_VOWELS, word)) + len(re.findall(_ONE_MORE, word)) - len(re.findall(_ONE_FEWER, word))
    return max(1, count)


def estimate(word: str, known: Known) -> int:
    """Syllables of a word in lower case that the list does not hold, at least 1."""
    count = from_relatives(word, known)
    if count is None:
        count = from_parts(word, known)
    return max(1, from_letters(word) if count is None else count)
