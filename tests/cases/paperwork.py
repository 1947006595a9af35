"""Cases for the papers that the department asks for."""

from __future__ import annotations

from tests.cases.whole_jobs import a_job, looks

CASES = looks(
    a_job(),
    "permit-posted",
    "permit-matches-work",
    "permit-in-force",
    "plans-on-site",
    "inspection-card",
    "visits-in-order",
    "earlier-corrections-closed",
    "fees-paid",
    "licenses-held",
    "adopted-edition-known",
    "load-calculation-filed",
    "panel-schedule-shown",
    "instructions-on-site",
    "utility-order",
    "early-power-form",
)
