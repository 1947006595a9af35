"""The cards of a walk: one rule at one place, with what is left of it, what is wrong and what is done.

A place is a room, or the whole job: what belongs to no room (the papers, the trench, the service) is walked there.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from itertools import groupby
from uuid import uuid4

from server.dwelling import Observation, Ref, format_length
from server.editions import Edition
from server.pages.forms import Fields
from server.pages.opened import OpenJob, room_of
from server.pages.pictures_view import NO_PICTURES, ShownPicture, of_observations
from server.readiness import JOB, RoomStanding
from server.readiness.naming import subject_name
from server.readiness.walk import Stop, stops_of
from server.readiness.words import sentence_of, write_number
from server.rules.outcome import Verdict
from server.rules.registry import SUBJECTS
from server.rules.rule import Kind, Rule

__all__ = ["Card", "Part", "Place", "card_of", "cards_of", "counts_of", "parts_of", "place_in"]


@dataclass(frozen=True, slots=True)
class Place:
    """Where somebody walks: a room or the whole job, and the address that its cards are sent to."""

    job: OpenJob
    room_id: str
    name: str
    path: str
    stops: tuple[Stop, ...]
    pictures: Mapping[str, ShownPicture] = field(default_factory=dict)

    @property
    def is_job(self) -> bool:
        return self.room_id == JOB

    @property
    def standing(self) -> RoomStanding:
        """Of the whole job's own findings, not of its rooms, where the place is the job."""
        return self.job.judged.standing(self.room_id)

    def subjects(self, rule: Rule) -> tuple[Ref, ...]:
        """What one look at the whole place is recorded under: the room itself, or each of the job's own subjects that
        nobody found wrong, since no room speaks for them."""
        if not self.is_job:
            return (Ref("room", self.room_id),)
        return tuple(
            finding.subject
            for stop in self.stops
            if stop.rule is rule
            for finding in (*stop.unseen, *stop.right)
        )


def place_in(opened: OpenJob, room_id: str, pictures: Mapping[str, ShownPicture] = NO_PICTURES) -> Place:
    """A room of an open job, or with :data:`JOB` the job itself, to be walked.

    Raises:
        NotFound: it has no such room.
    """
    base = f"/jobs/{opened.job.id}"
    found = opened.findings_of(room_id)
    if room_id == JOB:
        stops = tuple(stops_of(JOB, found))
        return Place(opened, JOB, "The whole job", f"{base}/whole-job/walk", stops, pictures)
    room = room_of(opened, room_id)
    stops = tuple(stops_of(room_id, found))
    return Place(opened, room_id, room.name, f"{base}/rooms/{room_id}/walk", stops, pictures)


@dataclass(frozen=True, slots=True)
class Member:
    """A subject of a card: where it stands, and what was recorded of it. ``place`` is the room's name where one of the
    room is wrong and nobody said which: ``name`` alone would accuse this one."""

    kind: str
    id: str
    name: str
    place: str
    verdict: str
    sentence: str

    @property
    def own_sentence(self) -> str:
        """What is known of this very one."""
        return self.sentence if self.place == self.name and self.verdict != Verdict.UNSEEN.value else ""


@dataclass(frozen=True, slots=True)
class Card:
    """One rule at this place, as it is walked; ``path`` is the place's walk, ``subject`` what a photograph of it is of
    when nothing narrower is named. ``coming`` are photographs that were announced and have not arrived."""

    job_path: str
    path: str
    place: str
    subject: str
    rule_id: str
    title: str
    look_for: str
    danger: str
    plain: str
    kind: str
    unit: str
    how: str
    worst: str
    limit: str
    limit_exact: str
    least: bool
    article: str
    members: tuple[Member, ...]
    unseen: int
    wrong: int
    right: int
    latest: str
    which: bool
    worst_measured: str
    pictures: tuple[ShownPicture, ...]
    coming: tuple[str, ...]
    said: str
    key: str
    fields: Fields

    @property
    def settled(self) -> bool:
        """Nothing of it is left to look at."""
        return self.unseen == 0


@dataclass(frozen=True, slots=True)
class Part:
    """Cards of one subject: boxes, cables, workmanship ..."""

    name: str
    cards: tuple[Card, ...]

    @property
    def left(self) -> int:
        return sum(not card.settled for card in self.cards)

    @property
    def by_look(self) -> tuple[str, ...]:
        """The rules that one look settles: those that may be recorded together."""
        return tuple(card.rule_id for card in self.cards if not card.settled and card.kind == Kind.SEEN.value)

    @property
    def by_tape(self) -> tuple[str, ...]:
        """The rules that a tape settles: recorded together once each was held against its limit and none falls short."""
        return tuple(
            card.rule_id for card in self.cards if not card.settled and card.kind == Kind.MEASURED.value
        )

    @property
    def together(self) -> tuple[str, ...]:
        """The rules that one answer may settle together when none of it is here."""
        return tuple(card.rule_id for card in self.cards if not card.settled)

    @property
    def key(self) -> str:
        """A key for recording all of them."""
        return str(uuid4())


def cards_of(place: Place) -> list[Card]:
    """The cards that a person can settle here, and those that somebody did, in the order of the rule book."""
    return [
        card_of(stop, place)
        for stop in place.stops
        if stop.rule.recordable and (stop.by_eyes or _recorded(stop, place))
    ]


def parts_of(cards: Iterable[Card]) -> tuple[Part, ...]:
    """Cards with something left to look at, by subject; neighbours of one card each are one part, settled together."""
    by_subject: dict[str, list[Card]] = {}
    for card in cards:
        if not card.settled:
            by_subject.setdefault(SUBJECTS[card.rule_id], []).append(card)
    parts: list[Part] = []
    for alone, group in groupby(by_subject.items(), key=lambda item: len(item[1]) == 1):
        named = list(group)
        if alone:
            named = [
                (", ".join(name for name, _ in named), [card for _, members in named for card in members])
            ]
        parts += (Part(name.capitalize(), tuple(members)) for name, members in named)
    return tuple(parts)


def counts_of(place: Place) -> tuple[int, int]:
    """How many cards are left to look at, and how many are done."""
    shown = [stop for stop in place.stops if stop.rule.recordable and (stop.by_eyes or stop.settled)]
    return sum(not stop.settled for stop in shown if stop.by_eyes), sum(stop.settled for stop in shown)


def _recorded(stop: Stop, place: Place) -> bool:
    """Whether somebody recorded something under this stop."""
    house = place.job.house
    return house.seen("room", place.room_id, stop.rule.id) is not None or any(
        house.seen(finding.subject.kind, finding.subject.id, stop.rule.id) is not None
        for finding in (*stop.wrong, *stop.right)
    )


def card_of(stop: Stop, place: Place, *, said: str = "", fields: Fields | None = None) -> Card:
    """One rule's card."""
    rule, opened, code = stop.rule, place.job, place.job.code
    findings = (*stop.wrong, *stop.unseen, *stop.right, *stop.inspector)
    pictures, coming = of_observations(place.pictures, _standing(stop, place))
    return Card(
        job_path=f"/jobs/{opened.job.id}",
        path=place.path, place="job" if place.is_job else "room",
        subject=f"job:{opened.job.id}" if place.is_job else f"room:{place.room_id}", rule_id=rule.id, title=rule.title, look_for=rule.look_for,
        danger=rule.danger,
        plain=rule.plain, kind=rule.kind.value, unit=rule.measure.unit if rule.measure else "",
        how=rule.measure.how if rule.measure else "", worst=rule.measure.worst if rule.measure else "",
        limit=_limit(stop, code),
        limit_exact=_limit_exact(stop, code),
        least=rule.measure.least if rule.measure else True, article=rule.article(code),
        members=tuple(
            Member(
                finding.subject.kind, finding.subject.id, subject_name(finding.subject, opened.house),
                subject_name(finding.place, opened.house), finding.outcome.verdict.value,
                sentence_of(rule, finding.outcome),
            )
            for finding in findings
        ),
        unseen=len(stop.unseen), wrong=len(stop.wrong), right=len(stop.right), latest=_latest(stop, place),
        which=any(finding.outcome.of_room for finding in stop.wrong), worst_measured=_worst_measured(stop, place),
        pictures=pictures, coming=coming,
        said=said, key=str(uuid4()), fields=fields or Fields(),
    )  # fmt: skip


def _worst_measured(stop: Stop, place: Place) -> str:
    """What the worst one of the room measured, as it is typed; empty where nobody measured one for the room."""
    seen = place.job.house.seen("room", place.room_id, stop.rule.id)
    if seen is None or seen.measure is None:
        return ""
    in_inches = stop.rule.measure is not None and stop.rule.measure.unit == "in"
    written = format_length(seen.measure) if in_inches else write_number(seen.measure)
    return written if "ft" in written else written.removesuffix(" in")  # the unit stands beside the field


def _limit(stop: Stop, code: Edition) -> str:
    """``at least 1/4 in``."""
    measure = stop.rule.measure
    if measure is None or not code.has(measure.limit):
        return ""
    number = code.number(measure.limit)
    figure = format_length(number) if measure.unit == "in" else f"{write_number(number)} {measure.unit}"
    return f"{'at least' if measure.least else 'at most'} {figure}"


def _limit_exact(stop: Stop, code: Edition) -> str:
    """The limit as a fraction, for judging on the tablet."""
    measure = stop.rule.measure
    return str(code.number(measure.limit)) if measure is not None and code.has(measure.limit) else ""


def _standing(stop: Stop, place: Place) -> list[Observation]:
    """What was recorded under this stop and counts here: of the place itself and of its subjects."""
    subjects = {
        ("room", place.room_id): None,
        **{(f.subject.kind, f.subject.id): None for f in (*stop.wrong, *stop.right, *stop.unseen)},
    }
    house = place.job.house
    found = (house.seen(kind, subject_id, stop.rule.id) for kind, subject_id in subjects)
    return [item for item in found if item is not None]


def _latest(stop: Stop, place: Place) -> str:
    """The id of the newest observation that counts here: what *take back* would take back."""
    newest = {item.id for item in _standing(stop, place)}
    log = place.job.house.facts.observations
    return next((item.id for item in reversed(log) if item.id in newest), "")
