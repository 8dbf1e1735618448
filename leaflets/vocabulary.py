"""The words a visit record may use: the trade's terms, each list once.

Everything that lists values (the record's schema, the rules, the page at the desk) reads them here.
Codes are ICD-10 (WHO) unless `CM` is said; read in WHO's chapter VIII listing, others from memory.
"""

from typing import Literal, get_args

EarName = Literal["left", "right"]
EARS: tuple[EarName, ...] = get_args(EarName)

Reader = Literal["adult", "carer", "child-5-7", "child-7-11"]
CHILD_READERS: tuple[Reader, ...] = ("child-5-7", "child-7-11")
"""Children who read, by their age in years: each gets a page, and whoever looks after them the leaflet behind it."""

AgeBand = Literal["5-7", "7-11"]
"""The ages that a school pack is made for, in years, both included."""
Paper = Literal["a4", "letter"]
Format = Literal["a4", "a5", "letter", "large-print", "easy-read", "phone", "text", "braille"]

Habit = Literal[
    "cotton-buds",
    "hairpins",
    "home-scoop",
    "ear-candles",
    "home-syringe",
    "peroxide-drops",
    "trims-ear-hair",
    "hearing-aids",
    "earphones",
    "ear-plugs",
    "swims",
    "cold-water",
    "loud-sound",
]
PersonCondition = Literal[
    "diabetes",
    "weak-immunity",
    "blood-thinners",
    "skin-condition",
    "only-hearing-ear",
    "cleft-palate",
    "head-neck-radiotherapy",
    "learning-disability",
    "dementia",
    "down-syndrome",
    "pregnancy",
    "tinnitus",
]
Allergy = Literal["nuts", "peanut", "soya", "nsaid", "other"]

WaxBefore = Literal["none", "some", "occluding"]
WaxAfter = Literal["none", "cleared", "partly-cleared", "not-cleared", "not-attempted"]
Method = Literal["microsuction", "instruments", "irrigation", "drops-only", "none"]
Eardrum = Literal["intact", "retracted", "fluid", "perforated", "tube", "not-seen"]
Canal = Literal[
    "deep-hairs",
    "bony-growths",
    "narrow",
    "scratched",
    "bleeding",
    "infected",
    "eczema",
    "discharge",
    "mastoid-cavity",
]
ObjectState = Literal["none", "removed", "present", "suspected"]
ObjectKind = Literal["cotton-tip", "bead", "insect", "battery", "food", "hearing-aid-part", "other"]
EarHistory = Literal["perforation", "ear-surgery", "tube", "recurrent-infection"]
Symptom = Literal[
    "hearing-loss",
    "sudden-hearing-loss",
    "pain",
    "severe-pain",
    "itch",
    "tinnitus",
    "pulsing-tinnitus",
    "dizziness",
    "vertigo",
    "discharge",
    "bleeding",
    "swelling-behind-ear",
    "facial-weakness",
    "fever",
]
Event = Literal["dizzy", "pain", "cough", "bled", "stopped-early"]

Agent = Literal["olive-oil", "almond-oil", "sodium-bicarbonate", "saline", "urea-hydrogen-peroxide", "docusate"]
AGENTS: tuple[Agent, ...] = get_args(Agent)
Drops = Literal["none", "olive-oil", "almond-oil", "sodium-bicarbonate", "saline", "urea-hydrogen-peroxide", "docusate"]
Referral = Literal["none", "gp", "ent-routine", "ent-urgent", "audiology", "emergency"]

ICD10: dict[str, dict[str, str]] = {
    "wax_before": {"occluding": "H61.2"},
    "eardrum": {"fluid": "H65.9", "perforated": "H72.9", "tube": "Z96.2"},
    "canal": {
        "bony-growths": "H61.8",
        "narrow": "H61.3",
        "infected": "H60.9",
        "eczema": "H60.5",
        "discharge": "H92.1",
        "bleeding": "H92.2",
    },
    "object": {"present": "T16", "removed": "T16", "suspected": "T16"},
    "symptoms": {
        "hearing-loss": "H91.9",
        "sudden-hearing-loss": "H91.2",
        "pain": "H92.0",
        "severe-pain": "H92.0",
        "tinnitus": "H93.1",
        "pulsing-tinnitus": "H93.1",
        "vertigo": "R42",
        "dizziness": "R42",
        "discharge": "H92.1",
        "bleeding": "H92.2",
        "facial-weakness": "R29.8",
        "fever": "R50.9",
    },
    "conditions": {
        "diabetes": "E14",
        "weak-immunity": "D89.9",
        "blood-thinners": "Z92.1",
        "cleft-palate": "Q35",
        "down-syndrome": "Q90",
        "dementia": "F03",
        "tinnitus": "H93.1",
    },
    "habits": {"hearing-aids": "Z97.4"},
}
"""ICD-10 code by field and value, where one fits; `symptoms_after` uses the codes of `symptoms`."""


def icd10_codes(field: str) -> dict[str, str]:
    """Return the ICD-10 code of each value of a field that has one."""
    return ICD10.get("symptoms" if field == "symptoms_after" else field, {})
