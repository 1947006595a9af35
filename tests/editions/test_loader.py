"""The edition files: strict, sourced, and layered without "last one wins"."""

from __future__ import annotations

from fractions import Fraction

import pytest

from server.editions import (
    YEARS,
    Absent,
    AmendmentConflict,
    Edition,
    EditionError,
    UnknownNode,
    default_year,
    load_edition,
    load_presets,
    parse_amendment,
    parse_file,
)

GOOD = """
[sources]
A = "a page, a publisher"
[node."x.least_in"]
means = "a least length"
unit = "in"
values = [
  { editions = [2017, 2020], value = "1/4", cites = "1.1", source = ["A"], confidence = "one" },
  { editions = [2023], value = "0.5", cites = "1.2", source = [], confidence = "memory" },
  { editions = [2026], absent = "not entered" },
]
"""


def edition(year: int) -> Edition:
    return Edition(year, parse_file(GOOD, "x.toml"))


def test_a_number_is_read_exactly_with_its_article_and_confidence() -> None:
    code = edition(2017)

    assert code.number("x.least_in") == Fraction(1, 4)
    assert (code.cites("x.least_in"), code.confidence("x.least_in")) == ("1.1", "one")


def test_a_value_nobody_entered_is_an_error_and_no_extrapolation() -> None:
    with pytest.raises(Absent, match="not entered"):
        edition(2026).number("x.least_in")


def test_an_unknown_name_is_told_from_an_absent_value() -> None:
    with pytest.raises(UnknownNode, match="x.most_in"):
        edition(2017).number("x.most_in")


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (('unit = "in"', 'unit = "in"\ncolour = 1'), "x.least_in: unknown key 'colour'"),
        (('cites = "1.1"', 'cite = "1.1"'), "unknown key 'cite'"),
        (('source = ["A"]', 'source = ["B"]'), "source 'B' is not in"),
        (('source = ["A"]', "source = []"), "without source"),
        (('value = "1/4"', "value = 0.25"), "write 0.25 as a string"),
        (('value = "1/4"', 'value = "a quarter"'), "expected a number in in"),
        (("editions = [2023]", "editions = [2020]"), "2020 has two values"),
        (("editions = [2023]", "editions = [2022]"), "came 2022"),
        (('absent = "not entered"', 'absent = "unknown"'), "expected absent"),
        (('  { editions = [2026], absent = "not entered" },\n', ""), r"no value and no absence for \[2026\]"),
        (('confidence = "one"', 'confidence = "sure"'), "expected confidence"),
        (("[sources]", '[node."x.least_in"]\n[sources]'), "x.toml: "),
    ],
)
def test_a_faulty_file_is_refused_with_file_and_key_named(change: tuple[str, str], message: str) -> None:
    broken = GOOD.replace(*change, 1)
    assert broken != GOOD

    with pytest.raises(EditionError, match=message) as caught:
        parse_file(broken, "x.toml")
    assert "x.toml" in str(caught.value)


def layer(name: str, **change: object) -> dict[str, object]:
    return {
        "id": name, "title": "A town", "place": "Town", "source": "Town code 12-3",
        "change": [{"kind": "replaces", "node": "edition.title", "value": "Town", "cites": "12-3", **change}],
    }  # fmt: skip


def test_an_amendment_replaces_a_value_and_brings_its_own_article() -> None:
    code = load_edition(2020).amended([parse_amendment(layer("town"), "town")])

    assert code.value("edition.title") == "Town"
    assert code.entry("edition.title").amended_by == "town"
    assert code.cites("edition.title") == "12-3"


def test_a_suspended_value_reads_as_removed() -> None:
    raw = layer("town", kind="suspends")
    del raw["change"][0]["value"]  # type: ignore[index]

    code = load_edition(2020).amended([parse_amendment(raw, "town")])

    assert not code.has("edition.title")
    with pytest.raises(Absent, match="removed"):
        code.value("edition.title")


def test_two_amendments_of_one_value_are_an_error_that_names_both() -> None:
    layers = [parse_amendment(layer(name), name) for name in ("town", "county")]

    with pytest.raises(AmendmentConflict, match=r"'town'.*'county'"):
        load_edition(2020).amended(layers)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"node": "no.such"}, "no value is named 'no.such'"),
        ({"cites": ""}, "no citation"),
        ({"kind": "overrides"}, "expected kind"),
        ({"kind": "suspends"}, "suspended and given a value"),
        ({"colour": 1}, "unknown key 'colour'"),
    ],
)
def test_a_faulty_amendment_is_refused(change: dict[str, object], message: str) -> None:
    with pytest.raises(EditionError, match=message):
        parse_amendment(layer("town", **change), "town")


@pytest.mark.parametrize("year", YEARS)
def test_every_edition_loads(year: int) -> None:
    assert load_edition(year).year == year


def test_every_shipped_amendment_fits_each_edition_that_it_names() -> None:
    for preset in load_presets():
        for year in preset.years:
            load_edition(year).amended([preset])


def test_there_is_no_edition_before_the_first() -> None:
    with pytest.raises(EditionError, match="came 2014"):
        Edition(2014, {})


def test_the_default_edition_is_the_newest_verified_one() -> None:
    assert default_year() == 2023
