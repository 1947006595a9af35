"""Cases for the papers and limits of an owner who wires."""

from __future__ import annotations

from tests.cases.whole_jobs import a_job, looks

CASES = looks(
    a_job(),
    "owner-declaration",
    "owner-lives-there",
    "owner-does-the-work",
    "owner-knowledge",
    "owner-permit-limits",
    "contractor-own-permit",
)
