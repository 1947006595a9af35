"""Cases for cables in open, wet and air-carrying places: 334.10, 334.12, 334.15, 334.23, 300.22."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Answer, Ref
from server.editions import Amendment, Change
from tests.cases.case import Case, House, look_cases, measure_cases, seen
from tests.cases.houses import a_room, wired_room

PLACE, METHODS = "cable-place", "wiring-methods-allowed"
WILL_COUNTY = Amendment(
    id="pipe-only", title="Pipe throughout", place="a county", source="Will County IL, in the inspection notes",
    changes=(Change("replaces", "wiring.kinds_allowed", "local 300.1", ("raceway",)),),
)  # fmt: skip


def room(kind: str, finished: bool | None = False, cable: str = "nm-b") -> House:
    return wired_room(kind, room={"finished": finished}, cable={"kind": cable})


def run(cable: str = "nm-b", kind: str = "outdoors", *, boxes: bool = True, **box: Any) -> House:
    """A cable from the panel to one box; the subject is the cable."""

    def build(house: HouseBuilder) -> Ref:
        room_id = house.room(kind, length_in=144, width_in=120)
        panel = house.panel()
        circuit = house.circuit(panel, "Outdoors")
        given = {"surface": "wall"} | box
        end = (
            house.box(room_id, **({"wall": 1, "at_in": 36} if given["surface"] == "wall" else {}), **given)
            if boxes
            else "nowhere"
        )
        return Ref("cable", house.cable(panel, end, circuit, kind=cable))

    return build


def job(cable: str | None) -> House:
    def build(house: HouseBuilder) -> Ref:
        if cable:
            run(cable, "bedroom")(house)
        return Ref("job", house.dwelling().site.id)

    return build


CASES = [
    *look_cases("joist-bottoms", room("basement"), outside={"finished or not": room("crawl space", None), "a finished basement": room("basement", True), "a bedroom": room("bedroom"), "metal-clad cable": room("basement", cable="mc")}),
    *look_cases("attic-cables-guarded", room("attic"), outside={"a bedroom": room("bedroom"), "no cable": a_room("attic")}),
    *look_cases("exposed-cable", room("garage"), outside={"a finished garage": room("garage", True), "a bedroom": room("bedroom")}, unknown={"finished or not": room("workshop", None)}),
    *measure_cases("nm-through-floor", room("basement"), 6, least=True, source="NM cable flashcards (StudyStack)", outside={"a bedroom": room("bedroom")}),
    *look_cases("air-spaces", room("hallway"), outside={"outdoors": room("outdoors")}),
    Case(PLACE, "clear - indoors", run(kind="bedroom"), "dry"),
    Case(PLACE, "clear - a box outdoors that is recorded dry", run(wetness="dry"), "dry"),
    Case(PLACE, "unseen - a box on an outside wall", run(), "from-behind"),
    Case(PLACE, "clear - somebody saw it come from inside the wall", seen(run(), PLACE, Answer.RIGHT), "looked-right"),
    Case(PLACE, "correction - somebody saw it run outside", seen(run(), PLACE, Answer.WRONG), "looked-wrong"),
    Case(PLACE, "correction - a post in the garden", run(surface="free"), "wet-place"),
    Case(PLACE, "unseen - a damp box in the basement wall", run(kind="basement", wetness="damp"), "from-behind"),
    Case(PLACE, "unseen - the ends are not recorded", run(boxes=False), "ends-not-recorded"),
    Case(PLACE, "outside - UF-B may be wet", run("uf-b", surface="free"), "any-place"),
    Case(METHODS, "clear - everything is allowed by the code itself", job("nm-b"), "allowed"),
    Case(METHODS, "correction - the county wants pipe", job("nm-b"), "not-allowed", layers=(WILL_COUNTY,)),
    Case(METHODS, "clear - pipe where the county wants it", job("raceway"), "allowed", layers=(WILL_COUNTY,)),
    Case(METHODS, "unseen - no cable is recorded", job(None), "no-cable"),
]  # fmt: skip
