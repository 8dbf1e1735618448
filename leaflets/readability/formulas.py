"""Readability formulas from counts. Each names its source; none knows how the counts were made."""

FLESCH_KINCAID = "flesch-kincaid"


def flesch_kincaid(words: int, sentences: int, syllables: int) -> float:
    """Grade of a US school that the text suits; below 0 for the easiest texts. For English, in Flesch's counting.

    Source: Kincaid, Fishburne, Rogers, Chissom, Derivation of New Readability Formulas for Navy Enlisted Personnel,
    Research Branch Report 8-75 (1975). Raises ValueError where there is no word or no sentence.

    >>> round(flesch_kincaid(words=271, sentences=10, syllables=367), 2)
    10.96

    """
    _require_text(words, sentences)
    return 0.39 * words / sentences + 11.8 * syllables / words - 15.59


def flesch_reading_ease(words: int, sentences: int, syllables: int) -> float:
    """Ease of reading, from about 0 (very hard) to 100 (very easy), with values beyond both. For English.

    Source: Flesch, A new readability yardstick, Journal of Applied Psychology 32 (1948) 221-233. Raises ValueError
    where there is no word or no sentence.

    >>> round(flesch_reading_ease(words=271, sentences=10, syllables=367), 2)
    64.76

    """
    _require_text(words, sentences)
    return 206.835 - 1.015 * words / sentences - 84.6 * syllables / words


def _require_text(words: int, sentences: int) -> None:
    if words < 1 or sentences < 1:
        raise ValueError(f"no formula holds for {words} words in {sentences} sentences")
