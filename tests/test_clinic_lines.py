"""A clinic's own lines keep the order of their numbers, whichever way the leaflet is written."""

import pytest

from leaflets.compose.values import _isolated_runs


@pytest.mark.parametrize(
    ("line", "runs"),
    [
        ("01632 960 124 أو +44 1632 960 124", ["01632 960 124", "+44 1632 960 124"]),
        ("من 9 إلى 5", []),
        ("راسلنا: ear@example.org", ["ear@example.org"]),
        ("(01632) 960 124.", ["(01632) 960 124"]),
    ],
)
def test_each_run_from_left_to_right_is_one(line: str, runs: list[str]) -> None:
    html = str(_isolated_runs(line))
    assert html.count('dir="ltr"') == len(runs)
    for run in runs:
        assert f'<span class="own" dir="ltr">{run}</span>' in html


def test_the_text_is_escaped() -> None:
    html = str(_isolated_runs("<b>هنا</b> & 10"))
    assert "<b>" not in html
    assert "&amp;" in html
