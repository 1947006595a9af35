"""Article numbers: which were read in a published text, and that the others are told as from memory."""

from __future__ import annotations

import pytest

from server.editions import EditionError
from server.editions.articles_read import article_read, articles_in, load_articles_read, parse_articles_read
from server.rules.registry import RULES
from server.rules.rule import COMMON_PRACTICE, NOT_IN_EDITION


@pytest.mark.parametrize(
    ("citation", "numbers"),
    [
        ("314.17(C)", ["314.17(C)"]),
        ("110.26(A)(1), Table 110.26(A)(1)", ["110.26(A)(1)", "110.26(A)(1)"]),
        ("334.15(B), (C)", ["334.15(B)", "334.15(C)"]),
        ("240.24(C) to (F)", ["240.24(C)", "240.24(F)"]),
        ("IRC R314.3 and 210.12", ["R314.3", "210.12"]),
        (COMMON_PRACTICE, []),
        ("local department", []),
    ],
)
def test_a_citation_is_read_apart_into_its_numbers(citation: str, numbers: list[str]) -> None:
    assert list(articles_in(citation)) == numbers


def test_every_citation_of_a_rule_names_an_article_or_says_that_there_is_none() -> None:
    for rule in RULES.values():
        for year, cites in rule.cites.items():
            if cites not in (NOT_IN_EDITION, COMMON_PRACTICE, "local department"):
                assert list(articles_in(cites)), (rule.id, year, cites)


def test_a_number_that_a_sourced_value_cites_was_read() -> None:
    assert article_read("314.17(B)(1)")


def test_a_deeper_subdivision_that_was_read_counts_for_its_parent_and_no_other_does() -> None:
    assert article_read("314.17(B)")
    assert not article_read("314.17(Z)")
    assert not article_read("31")


def test_one_number_from_memory_leaves_the_whole_citation_from_memory() -> None:
    assert not article_read("314.17(B)(1), 999.1")


def test_what_names_no_article_is_nothing_to_doubt() -> None:
    assert article_read(COMMON_PRACTICE)


def test_the_file_keeps_only_numbers_that_something_cites() -> None:
    cited = {
        number for rule in RULES.values() for cites in rule.cites.values() for number in articles_in(cites)
    }
    for key, numbers in load_articles_read().read.items():
        for number in numbers:
            assert any(each == number or number.startswith((f"{each}(", f"{each}.")) for each in cited), (
                key,
                number,
            )


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('[sources]\nA = "a"\n[read]\n', "every source"),
        ('[sources]\n[read]\nA = ["110.3"]\n', "every source"),
        ('[sources]\nA = "a"\n[read]\nA = ["about boxes"]\n', "'about boxes'"),
        ('[sources]\nA = "a"\n[read]\nA = ["110.3", "110.3"]\n', "twice"),
    ],
)
def test_a_wrong_file_is_refused(text: str, words: str) -> None:
    with pytest.raises(EditionError, match=words):
        parse_articles_read(text)
