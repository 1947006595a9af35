"""The rule book as people read it: found by words, article or thing; and what differs between two editions."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import log
from typing import Final

from server.dwelling import Stage, format_length
from server.editions import YEARS, Edition, EditionValue, Entry, Node, load_edition
from server.rules.registry import RULES, SUBJECTS
from server.rules.rule import Carried, Rule

__all__ = [
    "Difference",
    "NumberByEdition",
    "by_subject",
    "closest_rule",
    "differences",
    "find_rules",
    "numbers_of",
    "write_value",
]

_WORD: Final = re.compile(r"[\w./()-]+")
_WEIGHTS: Final = (
    ("title", 8),
    ("id", 6),
    ("subject", 5),
    ("article", 6),
    ("look_for", 3),
    ("why", 2),
    ("cure", 2),
    ("more", 1),
)


def _texts(rule: Rule) -> Mapping[str, str]:
    return {
        "title": rule.title, "id": rule.id.replace("-", " "), "subject": SUBJECTS[rule.id],
        "article": " ".join(str(cite) for cite in rule.cites.values()), "look_for": rule.look_for, "why": rule.why,
        "cure": rule.cure, "more": f"{rule.mistakes} {rule.plain} {rule.stage} {rule.about_kind} {' '.join(rule.says.values())}",
    }  # fmt: skip


_INDEX: Final = {
    rule.id: {name: text.lower() for name, text in _texts(rule).items()} for rule in RULES.values()
}


def find_rules(words: str = "", *, stage: Stage | None = None) -> list[Rule]:
    """The rules in which every word stands, the best first; all of them, in the book's order, without words.

    A word counts where it begins a word of the text: ``recep`` finds receptacles, ``314.16`` an article.
    """
    asked = [_asked(word.lower()) for word in _WORD.findall(words)][:12]
    pool = [rule for rule in RULES.values() if stage is None or rule.stage is stage]
    if not asked:
        return pool
    scored = []
    for place, rule in enumerate(pool):
        total = 0
        for word in asked:
            score = _score(rule, word)
            if not score:
                break
            total += score
        else:
            scored.append((-total, place, rule))
    return [rule for _, _, rule in sorted(scored, key=lambda item: item[:2])]


_SMALL_WORDS: Final = frozenset({
    "a", "all", "an", "and", "are", "at", "be", "by", "for", "from", "has", "have", "in", "is", "it", "its", "no", "not", "of",
    "off", "on", "one", "or", "than", "that", "the", "there", "to", "too", "with", "within",
})  # fmt: skip
_UNKNOWN: Final = 8
"""A word that no rule has weighs as one that so many have: it may be a mere manner of speaking."""

_TELLING: Final = 0.4
"""The share of what a line says that must stand in one rule before the line is taken to be about it."""


def closest_rule(text: str) -> Rule | None:
    """The rule that a sentence is most likely about, as an inspector would write it; None where nothing tells.

    Unlike in :func:`find_rules` not every word must stand in the rule. A word tells the more the fewer rules have it
    (inverse document frequency); a word that no rule has tells against all of them; a rule whose short name stands
    whole in the line counts double, and is told by that alone. Of rules that have the same words the one that says
    least besides is nearest.
    """
    words = set(_stems(text))
    if not words:
        return None
    telling = {word: log((1 + len(_STEMS)) / (1 + _COMMON.get(word, _UNKNOWN))) for word in words}
    best, most = None, 0.0
    for rule_id, (heads, rest) in _STEMS.items():
        having = words & (heads | rest)
        named = len(having) >= 2 and having.issuperset(_NAMES[rule_id])
        share = sum(telling[word] for word in having) / sum(telling.values())
        if not named and (len(having) < 2 or share < _TELLING):
            continue
        weight = (2 if named else 1) * sum(telling[word] * (3 if word in heads else 1) for word in having)
        nearness = weight / (len(heads) + len(rest)) ** 0.25
        if nearness > most:
            best, most = rule_id, nearness
    return RULES[best] if best else None


def _stems(text: str) -> list[str]:
    """The words of a text without their endings, articles of the code as they are up to their subsection."""
    words = (word.strip(".()/-").split("(")[0] for word in _WORD.findall(text.lower().replace("-", " ")))
    return [_ENDING.sub("", word) for word in words if len(word) > 2 and word not in _SMALL_WORDS]


_ENDING: Final = re.compile(r"(?<=[a-z]{3})(?:ed|es|e|s|ing)$")
_STEMS: Final = {
    rule_id: (
        frozenset(_stems(f"{texts['title']} {texts['id']} {texts['subject']} {texts['article']}")),
        frozenset(_stems(f"{texts['look_for']} {texts['cure']} {texts['more']}")),
    )
    for rule_id, texts in _INDEX.items()
}
_NAMES: Final = {rule_id: frozenset(_stems(rule_id)) for rule_id in RULES}
_COMMON: Final = Counter(word for heads, rest in _STEMS.values() for word in heads | rest)


def _asked(word: str) -> tuple[str, re.Pattern[str]]:
    """A word and where it begins a word of a text."""
    return word, re.compile(rf"(?<![\w.]){re.escape(word)}")


def _score(rule: Rule, asked: tuple[str, re.Pattern[str]]) -> int:
    word, pattern = asked
    texts = _INDEX[rule.id]
    # most texts have no such letters at all, which is told sooner than where a word begins
    return sum(weight for name, weight in _WEIGHTS if word in texts[name] and pattern.search(texts[name]))


@dataclass(frozen=True, slots=True)
class NumberByEdition:
    """A number, list or table of the code as each edition has it."""

    name: str
    means: str
    by_year: tuple[tuple[int, str, str, bool], ...]
    """Year, value in words, article, whether somebody has verified it."""


def numbers_of(rule: Rule) -> list[NumberByEdition]:
    """The limit that a measured rule is judged by, in every edition."""
    if rule.measure is None:
        return []
    editions = {year: load_edition(year) for year in YEARS}
    node = editions[YEARS[-1]].node(rule.measure.limit)
    return [_by_edition(node, editions)]


def _by_edition(node: Node, editions: Mapping[int, Edition]) -> NumberByEdition:
    rows = []
    for year in sorted(editions):
        entry = editions[year].entry(node.name)
        rows.append((year, _told(entry, node.unit), entry.cites, entry.verified or bool(entry.absence)))
    return NumberByEdition(node.name, node.means, tuple(rows))


def write_value(value: EditionValue, unit: str) -> str:
    """A value of the code in words: ``1/4 in``, ``yes``, ``kitchen, laundry``."""
    match value:
        case bool():
            return "yes" if value else "no"
        case str():
            return value
        case Fraction() | int():
            if unit == "in":
                return format_length(Fraction(value))
            number = f"{int(value):,}" if Fraction(value).denominator == 1 else f"{float(value):g}"
            words = {
                "a": "A",
                "v": "V",
                "va": "VA",
                "in3": "in³",
                "ft2": "ft²",
                "percent": "%",
                "count": "",
                "years": "years",
            }
            return f"{number} {words.get(unit, unit)}".strip()
        case tuple():
            return ", ".join(write_value(part, unit) for part in value) or "none"
        case _:
            return "; ".join(f"{key}: {write_value(part, unit)}" for key, part in value.items())


def _told(entry: Entry, unit: str) -> str:
    return entry.absence or ("" if entry.value is None else write_value(entry.value, unit))


@dataclass(frozen=True, slots=True)
class Difference:
    """What one edition has otherwise than another."""

    what: str
    subject: str
    before: str
    after: str
    before_cites: str
    after_cites: str
    rule_id: str
    verified: bool


def differences(earlier: int, later: int) -> list[Difference]:
    """What differs between two editions: values first by subject, then articles that moved or came or went.

    Raises:
        EditionError: there is no such edition.
    """
    one, other = load_edition(earlier), load_edition(later)
    found = []
    for node in one:
        before, after = one.entry(node.name), other.entry(node.name)
        same = (before.value, before.absence) == (after.value, after.absence)
        if same or node.name.startswith(("edition.", "practice.")):
            continue
        found.append(
            Difference(
                node.means, node.file.removesuffix(".toml").replace("_", " "), _told(before, node.unit),
                _told(after, node.unit), before.cites, after.cites, "", after.verified or bool(after.absence),
            )
        )  # fmt: skip
    found += [
        Difference(
            rule.title, SUBJECTS[rule.id], str(rule.cites[earlier]), str(rule.cites[later]), "", "", rule.id,
            not isinstance(rule.cites[later], Carried),
        )
        for rule in RULES.values()
        if str(rule.cites[earlier]) != str(rule.cites[later])
    ]  # fmt: skip
    return found


def by_subject(rules: Iterable[Rule]) -> dict[str, list[Rule]]:
    """Rules by the subject of their module, in the book's order."""
    groups: dict[str, list[Rule]] = {}
    for rule in rules:
        groups.setdefault(SUBJECTS[rule.id], []).append(rule)
    return groups
