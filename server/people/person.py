"""Whoever asks: the account, the crew it acts for and its role there."""

from __future__ import annotations

from dataclasses import dataclass

from server.people.roles import Role

__all__ = ["Person"]


@dataclass(frozen=True, slots=True)
class Person:
    """Someone signed in, acting for one crew.

    ``id`` is the account's. A guest who came by a link has no account: ``id`` is the link's and ``only_job_id``
    the one job that the link opens; for everybody else it is None.
    """

    id: str
    name: str
    crew_id: str
    role: Role
    only_job_id: str | None = None
    session_id: str = ""

    @property
    def has_account(self) -> bool:
        """Whether there is an account; whoever came by a guest's link has none."""
        return self.only_job_id is None

    @property
    def may_record(self) -> bool:
        """Whether the person may record observations."""
        return self.role >= Role.APPRENTICE

    @property
    def may_build(self) -> bool:
        """Whether the person may change the facts of a job."""
        return self.role >= Role.ELECTRICIAN

    @property
    def may_lead(self) -> bool:
        """Whether the person may make, assign and delete jobs."""
        return self.role >= Role.FOREMAN

    @property
    def owns(self) -> bool:
        """Whether the person may change who is on the crew."""
        return self.role >= Role.OWNER
