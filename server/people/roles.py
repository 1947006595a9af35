"""The roles on a crew, lowest first: each may do what those before it may."""

from __future__ import annotations

from enum import IntEnum

__all__ = ["ROLE_WORDS", "Role"]


class Role(IntEnum):
    """What someone may do on the crew's jobs.

    Ordered, so that ``person.role >= Role.ELECTRICIAN`` asks whether it is high enough.
    """

    GUEST = 0
    APPRENTICE = 1
    ELECTRICIAN = 2
    FOREMAN = 3
    OWNER = 4

    @property
    def word(self) -> str:
        """As it stands in the database and on screen: ``foreman``."""
        return self.name.lower()

    @classmethod
    def named(cls, word: str) -> Role:
        """The role of a word.

        Raises:
            ValueError: no role has that name.
        """
        try:
            return cls[word.upper()]
        except KeyError:
            raise ValueError(f"expected one of {', '.join(r.word for r in cls)}, came {word!r}") from None


ROLE_WORDS: dict[Role, str] = {
    Role.GUEST: "reads everything, changes nothing",
    Role.APPRENTICE: "walks rooms and records what was seen",
    Role.ELECTRICIAN: "also enters and changes rooms, boxes, cables and circuits",
    Role.FOREMAN: "also makes jobs, assigns rooms and deletes",
    Role.OWNER: "also adds people and changes their roles",
}
"""What each role may do, for the crew page."""
