"""Emergency and advice numbers by country of care, and the members of the European Union."""

import holidays
import pytest

from leaflets.content import Content

# GB: NHS (999, 111). IE: 112, and 999 reaches the same service. US, CA: 911. AU: 000. NZ: 111. IN: 112. All but GB from
# memory; 112 in every member state: Directive (EU) 2018/1972, article 109 (from memory).
EMERGENCY = {
    "GB": {"999"},
    "IE": {"112", "999"},
    "US": {"911"},
    "CA": {"911"},
    "AU": {"000"},
    "NZ": {"111"},
    "IN": {"112"},
}
ADVICE = {
    "GB": {"111"},
    "IE": {None},
    "US": {None},
    # 811 is no line of the whole country.
    "CA": {None, "811"},
    "AU": {"1800 022 222"},
    "NZ": {"0800 611 116"},
    "IN": {None},
}

# The 27 members since 1 February 2020, in the order of their names in English (from memory).
MEMBERS = {
    "AT": "Austria",
    "BE": "Belgium",
    "BG": "Bulgaria",
    "HR": "Croatia",
    "CY": "Cyprus",
    "CZ": "Czechia",
    "DK": "Denmark",
    "EE": "Estonia",
    "FI": "Finland",
    "FR": "France",
    "DE": "Germany",
    "GR": "Greece",
    "HU": "Hungary",
    "IE": "Ireland",
    "IT": "Italy",
    "LV": "Latvia",
    "LT": "Lithuania",
    "LU": "Luxembourg",
    "MT": "Malta",
    "NL": "Netherlands",
    "PL": "Poland",
    "PT": "Portugal",
    "RO": "Romania",
    "SK": "Slovakia",
    "SI": "Slovenia",
    "ES": "Spain",
    "SE": "Sweden",
}


@pytest.mark.parametrize("country", EMERGENCY)
def test_a_country_has_its_own_emergency_and_advice_numbers(content: Content, country: str) -> None:
    ours = content.rule_book.countries[country]
    assert ours.emergency in EMERGENCY[country]
    assert ours.advice in ADVICE[country]


def test_every_member_of_the_european_union_has_112_and_there_are_27(content: Content) -> None:
    countries = content.rule_book.countries
    assert len(MEMBERS) == 27
    assert {code for code in MEMBERS if countries[code].emergency == "112"} == set(MEMBERS)
    assert {code for code in countries if code not in EMERGENCY} == set(MEMBERS) - {"IE"}


def test_the_codes_of_the_members_are_those_of_an_independent_library() -> None:
    # The holidays package knows countries by ISO 3166-1 alpha-2; CLDR's names in babel are a second opinion.
    from babel import Locale  # noqa: PLC0415 - beside its only use

    supported = holidays.list_supported_countries()
    names = Locale.parse("en").territories
    for code, name in MEMBERS.items():
        assert code in supported
        assert names[code] == name


@pytest.mark.parametrize("country", ["CH", "NO", "ZZ", "EU", "UK"])
def test_a_country_that_nobody_looked_up_has_no_number(content: Content, country: str) -> None:
    assert country not in content.rule_book.countries


def test_a_member_without_an_advice_line_is_given_none(content: Content) -> None:
    assert {content.rule_book.countries[code].advice for code in MEMBERS} == {None}
