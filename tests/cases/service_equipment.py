"""Cases for the service disconnect: 230.66 to 230.72, 110.9."""

from __future__ import annotations

from server.dwelling import Answer
from server.editions import parse_amendment
from tests.cases.case import Case, seen
from tests.cases.whole_jobs import a_job, looks

INSIDE = "service-conductors-inside"
JOB = a_job()
FIVE_FEET = parse_amendment(
    {
        "id": "five-feet-inside", "title": "Service conductors inside", "place": "a county",
        "source": "A county's list (5 ft), as read in the reference", "change": [
            {"kind": "adds", "node": "service.inside_most_in", "value": 60, "cites": "local", "why": "a local cap"},
        ],
    },
    "a test",
)  # fmt: skip


def at(figure: object) -> Case:
    verdict, reason = (
        ("clear", "measured-enough") if figure in (60, "59 63/64") else ("correction", "measured-short")
    )
    return Case(
        INSIDE,
        f"{verdict} - {figure} in where 5 ft is the local cap",
        seen(JOB, INSIDE, figure),
        reason,
        layers=(FIVE_FEET,),
    )


CASES = [
    *looks(
        JOB, "service-disconnect-place", "service-disconnects-few", "service-disconnect-marked",
        "service-equipment-marked", "interrupting-rating", "neutral-brought-in", "service-openings-closed",
        "service-working-space",
        "service-neutral-marked",
        "house-closed-in",
    ),
    Case(INSIDE, "unseen - nobody has measured", JOB, "not-measured"),
    Case(INSIDE, "clear - somebody found it short enough", seen(JOB, INSIDE, Answer.RIGHT), "looked-right"),
    Case(INSIDE, "correction - somebody found it too long", seen(JOB, INSIDE, Answer.WRONG), "looked-wrong"),
    Case(INSIDE, "outside - the disconnect is outdoors", seen(JOB, INSIDE, Answer.NOT_HERE), "not-here"),
    Case(INSIDE, "inspector - measured, and the code has no figure", seen(JOB, INSIDE, 40), "no-figure"),
    at(60), at("59 63/64"), at("60 1/64"),
    Case(INSIDE, "unseen - nobody measured under a local cap", JOB, "not-measured", layers=(FIVE_FEET,)),
]  # fmt: skip
