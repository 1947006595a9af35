"""Cases for what an inspector needs to get in and see."""

from __future__ import annotations

from tests.cases.whole_jobs import a_job, looks

CASES = looks(a_job(), "address-seen", "safe-access", "somebody-there", "video-visit-ready")
