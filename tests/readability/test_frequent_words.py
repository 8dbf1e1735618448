"""Frequency coverage: by hand, against wordfreq itself, on easy and legal texts, and on what is no text."""

# ruff: noqa: RUF001 - letters of other scripts are what is tried

import subprocess
import sys
import unicodedata
import zlib
from collections.abc import Callable
from importlib import resources
from types import ModuleType

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leaflets.errors import LeafletError
from leaflets.readability import build_frequent_words
from leaflets.readability.build_frequent_words import FOLDER, build, languages_without_formula, most_frequent
from leaflets.readability.formulas import formulas_for
from leaflets.readability.frequent_words import (
    LANGUAGES_WITH_LIST,
    WORDS_PER_LIST,
    Coverage,
    coverage,
    file_name,
    is_common,
    pack_list,
    parse_list,
    parts_as_listed,
)
from leaflets.readability.segment import Word, split_units, words

LANGUAGES = sorted(LANGUAGES_WITH_LIST)
LARGEST_BYTES = 250_000
SCRIPTS = {"ar": "ARABIC", "fa": "ARABIC", "ur": "ARABIC", "uk": "CYRILLIC", "bg": "CYRILLIC", "el": "GREEK"}
SCRIPTS |= {"ta": "TAMIL"} | dict.fromkeys(("cs", "fi", "hu", "lt", "ro", "sk"), "LATIN")

# "This is my house. I have a brother and a sister. We live in a new town. I like my work. It was very cold yesterday.
# My children go to school. Mother says all will be well. What do you want to do tomorrow?" Our own translations, made
# before anything was measured, and not read by native speakers.
EVERYDAY = {
    "ar": "هذا بيتي. عندي أخ وأخت. نحن نعيش في مدينة جديدة. أنا أحب عملي. كان الجو باردا جدا أمس. أولادي يذهبون إلى "
    "المدرسة. أمي تقول إن كل شيء سيكون بخير. ماذا تريد أن تفعل غدا؟",
    "bg": "Това е моят дом. Аз имам брат и сестра. Ние живеем в нов град. Обичам работата си. Вчера беше много "
    "студено. Моите деца ходят на училище. Мама казва, че всичко ще бъде добре. Какво искаш да правиш утре?",
    "cs": "Tohle je můj dům. Mám bratra a sestru. Žijeme v novém městě. Mám rád svou práci. Včera byla velká zima. "
    "Moje děti chodí do školy. Máma říká, že všechno bude dobré. Co chceš dělat zítra?",
    "el": "Αυτό είναι το σπίτι μου. Έχω έναν αδερφό και μια αδερφή. Ζούμε σε μια νέα πόλη. Μου αρέσει η δουλειά "
    "μου. Χθες έκανε πολύ κρύο. Τα παιδιά μου πάνε σχολείο. Η μαμά λέει ότι όλα θα πάνε καλά. Τι θέλεις να "
    "κάνεις αύριο;",
    "fa": "این خانه من است. من یک برادر و یک خواهر دارم. ما در یک شهر جدید زندگی می‌کنیم. من کارم را دوست دارم. "
    "دیروز خیلی سرد بود. بچه‌های من به مدرسه می‌روند. مادر می‌گوید همه چیز خوب می‌شود. فردا می‌خواهی چه کار "
    "کنی؟",
    "fi": "Tämä on minun talo. Minulla on veli ja sisko. Me asumme uudessa kaupungissa. Pidän työstäni. Eilen oli "
    "todella kylmä. Lapset käyvät koulua. Äiti sanoo, että kaikki menee hyvin. Mitä haluat tehdä huomenna?",
    "hu": "Ez az én házam. Van egy bátyám és egy nővérem. Egy új városban élünk. Szeretem a munkámat. Tegnap nagyon "
    "hideg volt. A gyerekeim iskolába járnak. Anya azt mondja, hogy minden jó lesz. Mit akarsz csinálni "
    "holnap?",
    "lt": "Tai mano namas. Turiu brolį ir seserį. Mes gyvename naujame mieste. Man patinka mano darbas. Vakar buvo "
    "labai šalta. Mano vaikai eina į mokyklą. Mama sako, kad viskas bus gerai. Ką nori daryti rytoj?",
    "ro": "Aceasta este casa mea. Am un frate și o soră. Locuim într-un oraș nou. Îmi place munca mea. Ieri a fost "
    "foarte frig. Copiii mei merg la școală. Mama spune că totul va fi bine. Ce vrei să faci mâine?",
    "sk": "Toto je môj dom. Mám brata a sestru. Žijeme v novom meste. Mám rád svoju prácu. Včera bola veľká zima. "
    "Moje deti chodia do školy. Mama hovorí, že všetko bude dobré. Čo chceš robiť zajtra?",
    "ta": "இது என் வீடு. எனக்கு ஒரு அண்ணன் மற்றும் ஒரு தங்கை. நாங்கள் ஒரு புதிய நகரத்தில் வாழ்கிறோம். எனக்கு என் "
    "வேலை பிடிக்கும். நேற்று மிகவும் குளிர். என் குழந்தைகள் பள்ளிக்கு செல்கிறார்கள். அம்மா எல்லாம் நன்றாக "
    "இருக்கும் என்று சொல்கிறார். நாளை நீ என்ன செய்ய வேண்டும்?",
    "uk": "Це мій дім. У мене є брат і сестра. Ми живемо в новому місті. Я люблю свою роботу. Вчора було дуже "
    "холодно. Мої діти ходять до школи. Мама каже, що все буде добре. Що ти хочеш робити завтра?",
    "ur": "یہ میرا گھر ہے۔ میرا ایک بھائی اور ایک بہن ہے۔ ہم ایک نئے شہر میں رہتے ہیں۔ مجھے اپنا کام پسند ہے۔ کل "
    "بہت سردی تھی۔ میرے بچے سکول جاتے ہیں۔ ماں کہتی ہے کہ سب ٹھیک ہو جائے گا۔ تم کل کیا کرنا چاہتے ہو؟",
}

# "Keep your ear dry. Do not put anything in your ear. Come back in two weeks. Call us if it hurts. You can go home
# today. Take one tablet in the morning and one in the evening. Drink water and rest. If you feel bad, go to the
# doctor." As above.
INSTRUCTIONS = {
    "ar": "حافظ على أذنك جافة. لا تضع أي شيء في أذنك. عد إلينا بعد أسبوعين. اتصل بنا إذا كان هناك ألم. يمكنك الذهاب "
    "إلى البيت اليوم. خذ حبة واحدة في الصباح وواحدة في المساء. اشرب الماء واسترح. إذا كنت تشعر بالتعب اذهب "
    "إلى الطبيب.",
    "bg": "Пазете ухото сухо. Не слагайте нищо в ухото. Елате пак след две седмици. Обадете ни се, ако боли. Днес "
    "можете да си отидете у дома. Вземайте по една таблетка сутрин и вечер. Пийте вода и почивайте. Ако ви е "
    "лошо, отидете на лекар.",
    "cs": "Udržujte ucho v suchu. Nedávejte si nic do ucha. Přijďte znovu za dva týdny. Zavolejte nám, když to "
    "bolí. Dnes můžete jít domů. Berte jednu tabletu ráno a jednu večer. Pijte vodu a odpočívejte. Pokud je "
    "vám špatně, jděte k lékaři.",
    "el": "Κρατήστε το αυτί στεγνό. Μη βάζετε τίποτα στο αυτί. Ελάτε πάλι σε δύο εβδομάδες. Πάρτε μας τηλέφωνο αν "
    "πονάει. Σήμερα μπορείτε να πάτε στο σπίτι. Πάρτε ένα χάπι το πρωί και ένα το βράδυ. Πίνετε νερό και "
    "ξεκουραστείτε. Αν δεν είστε καλά, πηγαίνετε στον γιατρό.",
    "fa": "گوش خود را خشک نگه دارید. هیچ چیز در گوش خود نگذارید. دو هفته بعد دوباره بیایید. اگر درد دارید به ما زنگ "
    "بزنید. امروز می‌توانید به خانه بروید. یک قرص صبح و یک قرص شب بخورید. آب بخورید و استراحت کنید. اگر حال "
    "شما بد است پیش دکتر بروید.",
    "fi": "Pidä korva kuivana. Älä laita mitään korvaan. Tule takaisin kahden viikon päästä. Soita meille, jos "
    "korva on kipeä. Voit mennä tänään kotiin. Ota yksi tabletti aamulla ja yksi illalla. Juo vettä ja lepää. "
    "Jos voit huonosti, mene lääkäriin.",
    "hu": "Tartsa szárazon a fülét. Ne tegyen semmit a fülébe. Jöjjön vissza két hét múlva. Hívjon minket, ha fáj. "
    "Ma már hazamehet. Vegyen be egy tablettát reggel és egyet este. Igyon vizet és pihenjen. Ha rosszul van, "
    "menjen orvoshoz.",
    "lt": "Laikykite ausį sausą. Nieko nekiškite į ausį. Ateikite vėl po dviejų savaičių. Paskambinkite mums, jei "
    "skauda. Šiandien galite eiti namo. Gerkite vieną tabletę ryte ir vieną vakare. Gerkite vandens ir "
    "ilsėkitės. Jei jums bloga, eikite pas gydytoją.",
    "ro": "Țineți urechea uscată. Nu puneți nimic în ureche. Veniți din nou peste două săptămâni. Sunați-ne dacă vă "
    "doare. Astăzi puteți merge acasă. Luați o pastilă dimineața și una seara. Beți apă și odihniți-vă. Dacă "
    "vă simțiți rău, mergeți la medic.",
    "sk": "Udržujte ucho v suchu. Nedávajte si nič do ucha. Príďte znova o dva týždne. Zavolajte nám, ak to bolí. "
    "Dnes môžete ísť domov. Berte jednu tabletu ráno a jednu večer. Pite vodu a oddychujte. Ak vám je zle, "
    "choďte k lekárovi.",
    "ta": "உங்கள் காதை உலர்வாக வைத்திருங்கள். காதில் எதையும் போட வேண்டாம். இரண்டு வாரம் கழித்து மீண்டும் வாருங்கள். "
    "வலி இருந்தால் எங்களை அழைக்கவும். இன்று நீங்கள் வீட்டுக்கு போகலாம். காலை ஒரு மாத்திரை மாலை ஒரு மாத்திரை "
    "சாப்பிடுங்கள். தண்ணீர் குடித்து ஓய்வு எடுங்கள். உடல் நலம் இல்லை என்றால் மருத்துவரிடம் செல்லுங்கள்.",
    "uk": "Тримайте вухо сухим. Нічого не кладіть у вухо. Прийдіть знову через два тижні. Зателефонуйте нам, якщо "
    "болить. Сьогодні ви можете піти додому. Беріть одну таблетку вранці і одну ввечері. Пийте воду і "
    "відпочивайте. Якщо вам погано, йдіть до лікаря.",
    "ur": "اپنا کان خشک رکھیں۔ کان میں کچھ نہ ڈالیں۔ دو ہفتے بعد دوبارہ آئیں۔ اگر درد ہو تو ہمیں فون کریں۔ آج آپ "
    "گھر جا سکتے ہیں۔ ایک گولی صبح اور ایک شام کو لیں۔ پانی پئیں اور آرام کریں۔ اگر آپ کی طبیعت خراب ہو تو "
    "ڈاکٹر کے پاس جائیں۔",
}


def covered(text: str, language: str) -> Coverage | None:
    return coverage([words(unit.text) for unit in split_units(text, language)], language)


def share(text: str, language: str) -> float:
    found = covered(text, language)
    assert found is not None
    return found.share


def own_list(language: str) -> frozenset[str]:
    return parse_list((FOLDER / file_name(language)).read_bytes())


# By hand: language, text, coverage, its common words (each is one of the first 300 of wordfreq), its rare ones (each is
# rarer in wordfreq than one word in a million).
HAND = [
    # words in all 4, figures and symbols out, "Smith" foreign, мікросукція rare
    ("uk", "Що це було? 2,5 + 48 = 50,5. Smith: мікросукція.", Coverage(3, 4, 1), "що це було", "мікросукція"),
    # the address is no word
    ("el", "Και τι είναι; www.example.org, μικροαναρρόφηση", Coverage(3, 4, 0), "και τι είναι", "μικροαναρρόφηση"),
    # a word with hyphens is common if all its parts are
    ("ro", "S-a, într-un și microaspirație-un.", Coverage(3, 4, 0), "s a într un și", "microaspirație-un"),
    # vowel signs and tatweel are not seen
    ("ar", "مِنْ إِلَى هـــذا", Coverage(3, 3, 0), "من إلى هذا", ""),
    # a vitamin is no word; capital letters are the same words
    ("cs", "PROTO JE B12 Jsem mikroaspirace", Coverage(3, 4, 1), "proto je jsem", "mikroaspirace"),
]


@pytest.mark.parametrize(("language", "text", "expected", "common", "rare"), HAND)
def test_coverage_by_hand(language: str, text: str, expected: Coverage, common: str, rare: str) -> None:
    assert coverage([words(text)], language) == expected
    assert all(is_common(word, language) for word in common.split())
    assert not any(is_common(word, language) for word in rare.split())
    assert expected.share == expected.common / expected.counted


@pytest.mark.parametrize(("language", "common", "rare"), [(case[0], *case[3:]) for case in HAND])
def test_what_was_taken_for_granted_by_hand(
    language: str, common: str, rare: str, reference_module: Callable[[str], ModuleType]
) -> None:
    wordfreq = reference_module("wordfreq")
    assert set(common.split()) <= set(wordfreq.top_n_list(language, 300))
    assert all(wordfreq.zipf_frequency(word, language) < 3 for word in rare.split())


def test_units_add_up_and_are_read_once() -> None:
    units = ("Що це?", "", "Мікросукція.")
    assert coverage((words(unit) for unit in units), "uk") == Coverage(2, 3, 0)
    assert coverage([words(" ".join(units))], "uk") == Coverage(2, 3, 0)


@pytest.mark.parametrize("tag", ["uk", "uk-UA", "uk_UA", "UK", " uk-Cyrl-UA "])
def test_a_tag_is_its_base_language(tag: str) -> None:
    assert coverage([words("Що це, Smith?")], tag) == Coverage(2, 2, 1)
    assert is_common("ЩО", tag) is True


@pytest.mark.parametrize("language", ["en", "cy", "so", "pl", "zh", "prs", "xx", "", "-", "../uk", "uk/../uk", "\x00"])
def test_a_language_without_a_list_has_no_coverage(language: str) -> None:
    assert coverage([words("Що це? This is it.")], language) is None
    assert is_common("this", language) is None


@pytest.mark.parametrize(
    "text",
    [
        *("", " ", "\x00\x1b[31m\x07", "\u0301\u0301", "\u064b\u0640", "\u200c\u200d\u00ad", "\ud800"),
        *("48 2,5 % + £5", "www.example.org", "Smith B12 COVID", "- \u2013 \u2022 ...", "保持耳朵干燥", "'", "-"),
    ],
)
@pytest.mark.parametrize("language", ["uk", "ar", "ta", "el"])
def test_where_nothing_can_be_counted_there_is_no_coverage(text: str, language: str) -> None:
    assert coverage([words(text)], language) is None
    assert coverage([], language) is None


@pytest.mark.parametrize("text", ["\u0301", "\u064b", "\u0640", "\u200d", "\u00ad", "-", "'", "", "\ud800", "\x00"])
@pytest.mark.parametrize("language", LANGUAGES)
def test_what_is_no_word_is_neither_common_nor_rare(text: str, language: str) -> None:
    assert is_common(text, language) is None
    assert coverage([[Word(text, 0, "word")]], language) is None


def test_mixed_scripts_are_never_common() -> None:
    # The first letter is Latin in each: to the eye they are "це", "від" and "και".
    assert is_common("це", "uk") is True
    assert [is_common(word, "uk") for word in ("цe", "Wi-Fi-це", "вiд")] == [False, False, False]
    assert is_common("kαι", "el") is False
    assert coverage([words("цe це")], "uk") == Coverage(1, 2, 0)


@given(st.lists(st.text(max_size=60), max_size=6), st.sampled_from([*LANGUAGES, "en", "so"]))
@settings(max_examples=200, deadline=None)
def test_any_text_in_any_language_never_crashes(units: list[str], language: str) -> None:
    found = [words(unit) for unit in units]
    counted = coverage(found, language)
    plain = sum(word.kind == "word" for unit in found for word in unit)
    if counted is not None:
        assert 0 <= counted.common <= counted.counted
        assert counted.counted >= 1
        assert counted.counted + counted.foreign == plain
        assert 0 <= counted.share <= 1


@given(st.text(max_size=30), st.sampled_from(LANGUAGES))
@settings(max_examples=200, deadline=None)
def test_the_form_that_is_looked_up_does_not_change_again(text: str, language: str) -> None:
    for part in parts_as_listed(text, language):
        assert parts_as_listed(part, language) in {(part,), ()}


@pytest.mark.parametrize("language", LANGUAGES)
def test_writing_alike_changes_nothing(language: str) -> None:
    text = EVERYDAY[language]
    expected = covered(text, language)
    for changed in (
        text.upper(),
        unicodedata.normalize("NFD", text),
        text.replace("\u0219", "\u015f").replace("\u021b", "\u0163"),
        text.replace("-", "\u2011"),
        " ".join(f"{word[0]}\u00ad{word[1:]}" if word[1:2].isalpha() else word for word in text.split(" ")),
    ):
        assert covered(changed, language) == expected


def test_letters_in_the_shape_that_they_are_printed_in_are_the_same() -> None:
    # Unicode, compatibility decompositions: FEEB, FEAC, FE8D are forms of heh, thal, alef ("this"), FEFB of lam, alef.
    assert parts_as_listed("\ufeeb\ufeac\ufe8d", "ar") == ("\u0647\u0630\u0627",)
    assert is_common("\ufeeb\ufeac\ufe8d", "ar") is True
    assert is_common("\ufefb", "ar") is True


def test_a_joiner_at_the_end_is_not_seen_and_one_within_is() -> None:
    assert parts_as_listed("به\u200c", "fa") == parts_as_listed("به\u200d", "fa") == ("به",)
    assert is_common("به\u200c", "fa") is True
    assert parts_as_listed("می\u200cشود", "fa") == ("می\u200cشود",)


def test_apostrophes_are_the_same() -> None:
    assert is_common("об'єкт", "uk") == is_common("об\u2019єкт", "uk") == is_common("об\u02bcєкт", "uk")
    assert parts_as_listed("об\u02bcєкт", "uk") == ("об'єкт",)


@pytest.mark.parametrize("language", LANGUAGES)
def test_everyday_text_has_a_larger_share_than_legal_text(language: str, declaration: Callable[[str], str]) -> None:
    everyday, legal = share(EVERYDAY[language], language), share(declaration(language), language)
    assert everyday > legal


def test_what_the_module_says_of_its_own_worth_is_so(declaration: Callable[[str], str]) -> None:
    # Holds the figures of the docstrings to what is measured: instructions for the ear are hardly told from legal text.
    legal = {language: share(declaration(language), language) for language in LANGUAGES}
    everyday = {language: share(EVERYDAY[language], language) for language in LANGUAGES}
    instructions = {language: share(INSTRUCTIONS[language], language) for language in LANGUAGES}
    means = [round(100 * sum(shares.values()) / len(LANGUAGES)) for shares in (legal, everyday, instructions)]
    assert means == [66, 90, 72]
    assert (round(100 * legal["ta"]), round(100 * legal["ur"])) == (33, 90)
    assert [language for language in LANGUAGES if instructions[language] < legal[language]] == ["bg", "lt", "ro", "uk"]


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_list_holds_the_most_frequent_words_of_wordfreq(
    language: str, reference_module: Callable[[str], ModuleType]
) -> None:
    wordfreq = reference_module("wordfreq")
    listed = own_list(language)
    assert len(listed) == WORDS_PER_LIST
    top = wordfreq.top_n_list(language, WORDS_PER_LIST + 200)
    assert listed <= set(top)
    rarest = min(wordfreq.zipf_frequency(word, language) for word in listed)
    for word in top:
        if wordfreq.zipf_frequency(word, language) > rarest and word not in listed:
            # Left out is what has another character than letters and marks of the script: a digit, a colon, a joiner.
            own = (
                unicodedata.category(character)[0] in "LM"
                and unicodedata.name(character).startswith((SCRIPTS[language], "COMBINING"))
                for character in word
            )
            assert not all(own), word


@pytest.mark.parametrize("language", LANGUAGES)
def test_words_are_looked_up_as_wordfreq_looks_them_up(
    language: str, reference_module: Callable[[str], ModuleType], declaration: Callable[[str], str]
) -> None:
    # Source: the tokens and Zipf values of wordfreq for each word of three texts and 3,000 of its first 6,000 words, as
    # written, in capitals, taken apart (NFD), and with a curled apostrophe or a hyphen that does not break. Left
    # out: what is two words to us; joiners at the end of a word, which we take off and wordfreq does not.
    wordfreq = reference_module("wordfreq")
    rarest = min(wordfreq.zipf_frequency(word, language) for word in own_list(language))
    text = "\n".join((declaration(language), EVERYDAY[language], INSTRUCTIONS[language]))
    written = {word.text for word in words(text) if word.kind == "word"}
    listed = wordfreq.top_n_list(language, 6000)[::2]
    written |= {word for word in listed if [found.text for found in words(word)] == [word]}
    looked_up = told = 0
    for word in written:
        for variant in (
            word,
            word.upper(),
            unicodedata.normalize("NFD", word),
            word.replace("'", "\u2019").replace("-", "\u2011"),
        ):
            common = is_common(variant, language)
            if common is None or variant[-1] in "\u200c\u200d":
                continue
            tokens = wordfreq.lossy_tokenize(variant, language)
            assert list(parts_as_listed(variant, language)) == tokens
            zipf = min(wordfreq.zipf_frequency(token, language) for token in tokens)
            looked_up += 1
            if zipf != rarest:  # words as frequent as the last of the list are in it or not by the alphabet
                assert common == (zipf > rarest), variant
                told += 1
    assert looked_up > 4 * 2800
    assert told > 0.95 * looked_up


def test_the_lists_are_what_the_build_makes(reference_module: Callable[[str], ModuleType]) -> None:
    reference_module("wordfreq")
    built = build()
    assert sorted(built) == LANGUAGES
    for language, packed in built.items():
        stored = (FOLDER / file_name(language)).read_bytes()
        assert parse_list(stored) == parse_list(packed)
        if "ng" not in zlib.ZLIB_RUNTIME_VERSION:  # zlib-ng packs the same words into other bytes
            assert stored == packed


def test_the_lists_are_small_and_come_with_their_licence() -> None:
    folder = resources.files("leaflets.readability").joinpath("frequent_words")
    names = sorted(entry.name for entry in folder.iterdir())
    assert names == sorted(["LICENCE.txt", *(file_name(language) for language in LANGUAGES)])
    assert sum(len(entry.read_bytes()) for entry in folder.iterdir()) < LARGEST_BYTES
    # CC BY-SA 4.0, section 3(a)(1) and (b): the creator, a link to the data and to the licence, that it was changed,
    # and the same licence for what was made of it.
    licence = " ".join(folder.joinpath("LICENCE.txt").read_text("utf-8").split())
    for owed in (
        "Robyn Speer",
        "https://github.com/rspeer/wordfreq",
        "https://creativecommons.org/licenses/by-sa/4.0/",
        "Attribution-ShareAlike 4.0",
        "What was changed",
        "without warranties",
    ):
        assert owed in licence


def test_the_languages_are_those_without_a_formula_for_which_there_are_words(
    reference_module: Callable[[str], ModuleType],
) -> None:
    assert not any(formulas_for(language) for language in LANGUAGES)
    available = reference_module("wordfreq").available_languages()
    assert languages_without_formula() & set(available) == LANGUAGES_WITH_LIST
    assert languages_without_formula() - set(available) == {"cy", "gu", "pa", "so", "sw"}


def test_packing_takes_no_note_of_order() -> None:
    assert pack_list(["б", "а"]) == pack_list(["а", "б"])
    assert parse_list(pack_list(["б", "а"])) == {"а", "б"}
    with pytest.raises(zlib.error):
        parse_list(b"damaged")


def test_the_build_takes_words_alone() -> None:
    # out: a figure, a foreign word, a sign, two words to us, a word with a digit, a capital letter
    assert most_frequent(["2", "the", "№", "а:б", "б2", "Це", "це", "т.д", "що"], "uk", 2) == ("це", "т.д")


def test_another_wordfreq_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(build_frequent_words, "_WORDFREQ", "0.0.0")
    with pytest.raises(LeafletError, match=r"wordfreq 0\.0\.0 is needed") as refused:
        build()
    assert refused.value.problems[0].hint == "pip install wordfreq==0.0.0"


def test_a_change_of_languages_is_noticed(
    monkeypatch: pytest.MonkeyPatch, reference_module: Callable[[str], ModuleType]
) -> None:
    reference_module("wordfreq")
    monkeypatch.setattr(build_frequent_words, "LANGUAGES_WITH_LIST", LANGUAGES_WITH_LIST - {"uk"})
    with pytest.raises(LeafletError, match="uk"):
        build()


def test_no_list_is_read_and_no_wordfreq_imported_before_there_is_need() -> None:
    program = """
import sys
from leaflets.readability import frequent_words
from leaflets.readability.segment import words
assert frequent_words._list.cache_info().currsize == 0
for _ in range(3):
    assert frequent_words.coverage([words("Що це?")], "uk-UA") == frequent_words.Coverage(2, 2, 0)
assert frequent_words.coverage([words("What?")], "en") is None
assert frequent_words._list.cache_info().misses == 1
assert "wordfreq" not in sys.modules
"""
    subprocess.run([sys.executable, "-c", program], check=True)
