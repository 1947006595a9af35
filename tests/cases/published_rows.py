"""Published rows on protection, built as houses: a room, a box, a device, a circuit with an ordinary breaker.

Rows whose facts a house cannot express (what a cord path crosses besides a cabinet door, equipment with a receptacle
built in, a wet bar as a room) are left to the tests of the reckonings; ``left_out`` counts them.
"""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import RECEPTACLE_RATINGS, DeviceKind, Ref, RoomKind, WorkKind
from tests.cases.case import Case, House

__all__ = ["CASES", "published_cases", "puzzle_cases", "rows"]

CASES: list[Case] = []
"""None of its own."""

DATA = Path(__file__).parents[1] / "data" / "protection"
VERDICTS = {"yes": "correction", "no": "outside"}
EXPRESSIBLE = {
    "kind", "room", "volts", "amps", "circuit_volts", "circuit_amps", "from_sink_in", "from_tub_in", "serves", "height_in",
    "dedicated", "readily_accessible", "single", "damp", "finished", "habitable", "floor_at_grade", "path_crosses",
    "listed_hvac", "work_on", "permit_date", "in_basement",
}  # fmt: skip
KINDS = {
    "receptacle": DeviceKind.RECEPTACLE, "lighting": DeviceKind.LUMINAIRE, "hardwired": DeviceKind.HARDWIRED,
    "switch": DeviceKind.SWITCH,
}  # fmt: skip


def rows(name: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = json.loads((DATA / name).read_text(encoding="utf-8"))["rows"]
    return found


def published_cases(rule: str, name: str) -> Iterator[Case]:
    """A case for each row and published answer, over the editions that share it."""
    for row in rows(name):
        if not expressible(row["facts"]):
            continue
        years: dict[str, list[int]] = defaultdict(list)
        for year, cell in row["by_edition"].items():
            if "ours" not in cell and cell["published"] in VERDICTS:
                years[VERDICTS[cell["published"]]].append(int(year))
        where = row.get("room") or row.get("place")
        for verdict, of_verdict in years.items():
            words = f"{verdict} - {row['id']} {where}: {row['situation']} {of_verdict[0]}"
            yield Case(rule, words, house_of(row["facts"]), "", tuple(of_verdict), "; ".join(row["sources"]))


ANSWERS = {True: "correction", False: "outside", "inspector": "inspector"}


def puzzle_cases(rule: str, asks: str, **device: Any) -> Iterator[Case]:
    """A case for each published question on one kind of protection; ``device`` is what is recorded of it besides."""
    for row in rows("protection_puzzles.json"):
        if row["asks"] != asks or row.get("amendment") or not expressible(row["facts"]):
            continue
        years: dict[str, list[int]] = defaultdict(list)
        for year, answer in row["expect"].items():
            years[ANSWERS[answer]].append(int(year))
        for verdict, of_verdict in years.items():
            words = f"{verdict} - {row['id']} {row['question']} {of_verdict[0]}"
            yield Case(
                rule,
                words,
                house_of(row["facts"], **device),
                "",
                tuple(of_verdict),
                "; ".join(row["sources"]),
            )


def expressible(facts: dict[str, Any]) -> bool:
    if set(facts) - EXPRESSIBLE or facts["room"] not in set(RoomKind):
        return False
    if set(facts.get("path_crosses", ())) - {"cabinet door"}:
        return False
    return facts.get("kind") != "receptacle" or configuration(facts) is not None


def configuration(facts: dict[str, Any]) -> str | None:
    """The configuration of a receptacle of these ratings."""
    rated = (facts.get("volts"), facts.get("amps"))
    return next((name for name, rating in RECEPTACLE_RATINGS.items() if rating == rated), None)


def house_of(facts: dict[str, Any], **device_facts: Any) -> House:
    """The house that these facts describe; ``device_facts`` are what is recorded of the device besides."""

    def build(house: HouseBuilder) -> Ref:
        site: dict[str, Any] = {"work": WorkKind(facts.get("work_on", "new"))}
        if "permit_date" in facts:
            site["permit_date"] = date.fromisoformat(facts["permit_date"])
        builder = HouseBuilder(**site)
        house.site = builder.site
        house.level("Storey", below_grade=facts.get("in_basement", False))
        if facts.get("floor_at_grade") is False:
            house.level("Storey above")
        room = house.room(
            facts["room"], length_in=144, width_in=120, finished=facts.get("finished", facts.get("habitable"))
        )
        circuit = house.circuit(
            house.panel(), "Circuit", rating_a=facts.get("circuit_amps", facts.get("amps", 20)),
            volts=facts.get("circuit_volts", 240 if (facts.get("volts") or 120) > 150 else 120),
        )  # fmt: skip
        places = {
            name: facts[name]
            for name in ("from_sink_in", "from_tub_in")
            if facts.get(name) not in (None, "none")
        }
        wetness = {True: "damp", False: "dry", None: None}[facts.get("damp")]
        box = house.box(
            room, wall=1, at_in=36, height_in=facts.get("height_in", 18), wetness=wetness,
            inside_cabinet="cabinet door" in facts.get("path_crosses", ()), **places,
        )  # fmt: skip
        more = {name: facts[name] for name in ("dedicated", "readily_accessible") if name in facts}
        if "single" in facts:
            more["receptacles"] = 1 if facts["single"] else 2
        if "listed_hvac" in facts:
            more["fixture_id"] = house.fixture(room, "air conditioner", listed_hvac=facts["listed_hvac"])
        kind = KINDS[facts["kind"]]
        if kind is DeviceKind.RECEPTACLE:
            more["configuration"] = configuration(facts)
        else:
            more["volts"] = facts.get("volts")
        device = house.device(box, kind, serves=facts.get("serves", ""), **more, **device_facts)
        house.home_run(circuit, box)
        return Ref("device", device)

    return build
