"""A house with everything that the rules find in it, kept so that one more look costs one more look.

judged = Judged.of(house, code)
judged.room(room_id), judged.standing(room_id), judged.whole
judged.seeing([observation])       # the same after more was seen: only what was touched is judged anew
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cached_property

from server.dwelling import Dwelling, Observation
from server.editions import Edition
from server.readiness.evaluate import Finding, evaluate, judge_again
from server.readiness.standing import JOB, RoomStanding, standing_of, standings

__all__ = ["Judged"]


class Judged:
    """Findings by room; those of no room under :data:`JOB`. Nothing changes after construction."""

    def __init__(self, house: Dwelling, code: Edition, by_room: Mapping[str, list[Finding]]) -> None:
        self.house = house
        self.code = code
        self._by_room = by_room
        self._standings: dict[str, RoomStanding] = {}

    @classmethod
    def of(cls, house: Dwelling, code: Edition) -> Judged:
        """Judge a whole house."""
        by_room: dict[str, list[Finding]] = {room.id: [] for room in house.facts.rooms}
        by_room[JOB] = []
        for finding in evaluate(house, code):
            for room_id in finding.rooms or (JOB,):
                by_room[room_id].append(finding)
        return cls(house, code, by_room)

    def room(self, room_id: str) -> list[Finding]:
        """What was found in a room; under :data:`JOB` what belongs to none."""
        return self._by_room.get(room_id, [])

    def standing(self, room_id: str) -> RoomStanding:
        """The standing of a room."""
        found = self._standings.get(room_id)
        if found is None:
            found = self._standings[room_id] = standing_of(room_id, self.room(room_id))
        return found

    @cached_property
    def findings(self) -> list[Finding]:
        """Every finding once: a cable between two rooms counts in both and stands here once."""
        return [
            finding
            for room_id, members in self._by_room.items()
            for finding in members
            if room_id == (finding.rooms[0] if finding.rooms else JOB)
        ]

    @cached_property
    def standings(self) -> dict[str, RoomStanding]:
        """Every room's standing, and the job's under :data:`JOB`."""
        return standings(self.house, self.findings)

    @property
    def whole(self) -> RoomStanding:
        """The job's standing."""
        return self.standings[JOB]

    def seeing(self, observations: Iterable[Observation]) -> Judged:
        """The same after more was seen."""
        more = tuple(observations)
        house = self.house.seeing(more)
        touched = {JOB}
        for seen in more:
            subject = house.find(seen.subject)
            if subject is not None:
                touched.update(room.id for room in house.rooms_of(subject))
        changed: dict[tuple[str, str, str], Finding] = {}
        for room_id in touched:
            before = self.room(room_id)
            for old, new in zip(before, judge_again(before, house, self.code, more), strict=True):
                if new is not old:
                    changed[new.rule.id, new.subject.kind, new.subject.id] = new
        reached = touched.union(*(finding.rooms for finding in changed.values()))
        by_room = dict(self._by_room)
        for room_id in reached:
            by_room[room_id] = [
                changed.get((finding.rule.id, finding.subject.kind, finding.subject.id), finding)
                for finding in self.room(room_id)
            ]
        after = Judged(house, self.code, by_room)
        after._standings = {
            room_id: standing for room_id, standing in self._standings.items() if room_id not in reached
        }
        return after
