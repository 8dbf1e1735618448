"""The characters that combine with the letter before them, as ranges of a regular expression's character class.

Frozen, because making it from `unicodedata` at import takes longer than scoring a leaflet. Source: Unicode 14,
general categories Mn, Mc and Me up to U+1F000 without variation selectors. To keep the class small, ranges run on over
letters and unassigned places, so that it is only right after a letter; digits and punctuation are never in it.
"""

COMBINING_MARKS = (
    "\u0300-\u036f\u0483-\u0489\u0591-\u05bd\u05bf\u05c1-\u05c2\u05c4-\u05c5\u05c7\u0610-\u061a"
    "\u064b-\u065f\u0670\u06d6-\u06dc\u06df-\u06e8\u06ea-\u06ed\u0711-\u07b0\u07eb-\u07f3\u07fd"
    "\u0816-\u082d\u0859-\u085b\u0898-\u08e1\u08e3-\u0963\u0981-\u09e3\u09fe-\u0a51\u0a70-\u0a75"
    "\u0a81-\u0ae3\u0afa-\u0b63\u0b82-\u0bd7\u0c00-\u0c63\u0c81-\u0c83\u0cbc-\u0ce3\u0d00-\u0d4d\u0d57"
    "\u0d62-\u0d63\u0d81-\u0ddf\u0df2-\u0df3\u0e31-\u0e3a\u0e47-\u0e4e\u0eb1-\u0ecd\u0f18-\u0f19\u0f35"
    "\u0f37\u0f39\u0f3e-\u0f84\u0f86-\u0fbc\u0fc6\u102b-\u103e\u1056-\u108f\u109a-\u109d\u135d-\u135f"
    "\u1712-\u1734\u1752-\u17d3\u17dd\u180b-\u180d\u180f\u1885-\u193b\u1a17-\u1a1b\u1a55-\u1a7f"
    "\u1ab0-\u1b44\u1b6b-\u1b73\u1b80-\u1bad\u1be6-\u1bf3\u1c24-\u1c37\u1cd0-\u1cd2\u1cd4-\u1dff"
    "\u20d0-\u20f0\u2cef-\u2cf1\u2d7f-\u2dff\u302a-\u302f\ua66f-\ua672\ua674-\ua67d\ua69e-\ua69f"
    "\ua6f0-\ua6f1\ua802-\ua827\ua82c\ua880-\ua8c5\ua8e0-\ua8f1\ua8ff\ua926-\ua92d\ua947-\ua953"
    "\ua980-\ua9c0\ua9e5\uaa29-\uaa4d\uaa7b-\uaac1\uaaeb-\uaaef\uaaf5-\uaaf6\uabe3-\uabea\uabec-\uabed"
    "\ufb1e\ufe20-\ufe2f\U000101fd-\U000102e0\U00010376-\U0001037a\U00010a01-\U00010a3f"
    "\U00010ae5-\U00010ae6\U00010d24-\U00010d27\U00010eab-\U00010eac\U00010f46-\U00010f50"
    "\U00010f82-\U00010f85\U00011000-\U00011046\U00011070-\U000110ba\U000110c2\U00011100-\U00011134"
    "\U00011145-\U00011173\U00011180-\U000111c0\U000111c9-\U000111cc\U000111ce-\U000111cf"
    "\U0001122c-\U00011237\U0001123e\U000112df-\U000112ea\U00011300-\U00011446\U0001145e-\U000114c3"
    "\U000115af-\U000115c0\U000115dc-\U00011640\U000116ab-\U000116b7\U0001171d-\U0001172b"
    "\U0001182c-\U0001183a\U00011930-\U00011943\U000119d1-\U000119e0\U000119e4-\U00011a3e"
    "\U00011a47-\U00011a99\U00011c2f-\U00011c3f\U00011c92-\U00011d47\U00011d8a-\U00011d97"
    "\U00011ef3-\U00011ef6\U00016af0-\U00016af4\U00016b30-\U00016b36\U00016f4f-\U00016f92"
    "\U00016fe4-\U00016ff1\U0001bc9d-\U0001bc9e\U0001cf00-\U0001cf46\U0001d165-\U0001d169"
    "\U0001d16d-\U0001d172\U0001d17b-\U0001d182\U0001d185-\U0001d18b\U0001d1aa-\U0001d1ad"
    "\U0001d242-\U0001d244\U0001da00-\U0001da36\U0001da3b-\U0001da6c\U0001da75\U0001da84"
    "\U0001da9b-\U0001e136\U0001e2ae-\U0001e2ef\U0001e8d0-\U0001e94a"
)
