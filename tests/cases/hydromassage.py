"""Cases for hydromassage tubs: 680.71 to 680.74."""

from __future__ import annotations

from tests.cases.whole_jobs import a_fixture, looks

CASES = looks(
    a_fixture("hydromassage tub", "bathroom"),
    "hydromassage-protected",
    "hydromassage-bonded",
    "hydromassage-reached",
    outside={"a plain bathtub": a_fixture("bathtub", "bathroom")},
)
