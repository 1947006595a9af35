"""From reasons and operands to sentences. Building words costs several times the judging, so it is done on request."""

from __future__ import annotations

from fractions import Fraction
from string import Formatter
from typing import Any

from server.dwelling import format_length
from server.editions import Edition
from server.editions.articles_read import article_read
from server.rules.outcome import Outcome, Verdict
from server.rules.rule import NOT_IN_EDITION, Carried, Rule

__all__ = ["article_of", "cure_of", "doubt_of", "sentence_of", "write_number"]


class _Writer(Formatter):
    """Knows how this trade writes: ``:in`` a length, ``:n`` a number, ``:list`` a list of words."""

    def format_field(self, value: Any, format_spec: str) -> Any:
        if format_spec == "in":
            return format_length(Fraction(value))
        if format_spec == "n":
            return write_number(value)
        if format_spec == "list":
            return _list(value)
        if isinstance(value, Fraction):
            return write_number(value)
        return super().format_field(value, format_spec)


_WRITER = _Writer()


def write_number(number: Fraction | int) -> str:
    """A number with thousands apart and at most three decimals: ``12,000``, ``14.4``."""
    if Fraction(number).denominator == 1:
        return f"{int(number):,}"
    return f"{float(number):,.3f}".rstrip("0").rstrip(".")


def _list(words: Any) -> str:
    items = [str(word) for word in words]
    if len(items) < 2:
        return "".join(items)
    return ", ".join(items[:-1]) + " and " + items[-1]


def sentence_of(rule: Rule, outcome: Outcome) -> str:
    """One sentence with the numbers.

    Raises:
        KeyError: the rule gave a reason or an operand that its sentences do not have.
    """
    if outcome.reason == "absent":
        return f"This edition ({outcome.operands['year']}) has no such rule."
    if outcome.reason == "suspended":
        return f"Suspended here by the amendment “{outcome.operands['layer']}”."
    said = _WRITER.vformat(rule.says[outcome.reason], (), outcome.operands)
    return f"{said} Nobody said which one." if outcome.of_room else said


def cure_of(rule: Rule, outcome: Outcome) -> str:
    """What would mend it; empty unless the verdict is a correction."""
    if outcome.verdict is not Verdict.CORRECTION:
        return ""
    template = rule.cures.get(outcome.reason)
    return rule.cure if template is None else _WRITER.vformat(template, (), outcome.operands)


def article_of(rule: Rule, outcome: Outcome, code: Edition) -> tuple[str, str]:
    """The article behind an outcome in this edition, and what is to be doubted about it; empty where it was read."""
    own = rule.cites[code.year]
    article = outcome.cites or (own if own != NOT_IN_EDITION else "")
    carried = isinstance(own, Carried) or outcome.confidence == "carry"
    return article, doubt_of(article, carried=carried, from_memory=outcome.confidence == "memory")


def doubt_of(article: str, *, carried: bool = False, from_memory: bool = False) -> str:
    """What is to be doubted about an article: it was carried to its edition, or it or its number is from memory."""
    if carried:
        return "not verified for this edition"
    if from_memory:
        return "from memory"
    return "" if article_read(article) else "number from memory"
