"""Small random circuits for hypothesis: a tree of two to four boxes, a few loads and switches, sometimes a GFCI."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

__all__ = ["circuits"]

Json = dict[str, Any]


@st.composite
def circuits(draw: st.DrawFn, *, most_boxes: int = 4, most_switches: int = 3) -> Json:
    """A request of the hookup sheet over one source and a tree of cables.

    Controls are drawn freely, so that switches also share loads in ways that no wiring can do.
    """
    count = draw(st.integers(2, most_boxes))
    boxes = [f"B{number}" for number in range(count)]
    insulated = st.sampled_from([2, 2, 3, 3, 4])
    cables = [
        {
            "id": "c0",
            "a": "P",
            "b": draw(st.sampled_from(boxes)),
            "insulated": draw(st.sampled_from([2, 2, 3])),
        }
    ]
    for number in range(1, count):
        ends = [boxes[draw(st.integers(0, number - 1))], boxes[number]]
        if draw(st.booleans()):
            ends.reverse()
        cables.append({"id": f"c{number}", "a": ends[0], "b": ends[1], "insulated": draw(insulated)})
    devices: list[Json] = []
    loads = []
    for number in range(draw(st.integers(1, 2))):
        kind = draw(st.sampled_from(["luminaire", "luminaire", "fan", "load", "receptacle"]))
        load: Json = {"id": f"L{number}", "node": draw(st.sampled_from(boxes)), "kind": kind}
        if kind == "receptacle" and draw(st.booleans()):
            load["split"] = draw(st.sampled_from(["top", "bottom"]))
        loads.append(load["id"])
        devices.append(load)
    for number in range(draw(st.integers(1, most_switches))):
        controls = draw(st.lists(st.sampled_from(loads), min_size=1, max_size=len(loads), unique=True))
        devices.append(
            {
                "id": f"S{number}",
                "node": draw(st.sampled_from(boxes)),
                "kind": "switch",
                "controls": sorted(controls),
            }
        )
    if draw(st.integers(0, 3)) == 0:
        devices.append({"id": "R", "node": draw(st.sampled_from(boxes)), "kind": "receptacle"})
    if draw(st.integers(0, 4)) == 0:
        names = [device["id"] for device in devices if device["kind"] != "switch"]
        protects = draw(st.lists(st.sampled_from(names), min_size=1, max_size=2, unique=True))
        # A switch is protected as its loads are; listing it is left to them.
        devices.append(
            {"id": "G", "node": draw(st.sampled_from(boxes)), "kind": "gfci", "protects": sorted(protects)}
        )
    neutral = draw(
        st.one_of(
            st.sampled_from(["required", "exempt"]), st.lists(st.sampled_from(boxes), unique=True, max_size=2)
        )
    )
    return {
        "nodes": [{"id": "P", "kind": "source"}, *({"id": box, "kind": "box"} for box in boxes)],
        "cables": cables,
        "devices": devices,
        "neutral_at_switch": neutral,
    }
