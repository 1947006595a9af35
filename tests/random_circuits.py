"""Random circuits for the tests of coverage and cures: trees with devices, loops and loose ends at will."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import strategies as st

from server.reckon.protection.tree import (
    SOURCE,
    ProtectionTree,
    Protector,
    Source,
    TreeBox,
    TreeCable,
    TreeOutlet,
)

__all__ = ["circuits"]


@st.composite
def circuits(
    draw: st.DrawFn,
    most_boxes: int = 8,
    *,
    tangled: bool = False,
    two_legs: bool = False,
    devices: bool = True,
    metal: bool | None = None,
    most_outlets: int = 3,
    no_gfci: bool = True,
) -> ProtectionTree:
    """A circuit: box ``b0`` hangs on the panel, every other box on an earlier one.

    ``tangled`` adds cables between any boxes and takes some away; ``metal`` fixes whether home runs are in metal.
    """
    count = draw(st.integers(1, most_boxes))
    legs = ("A", "B") if two_legs and draw(st.booleans()) else ("A",)
    boxes = tuple(
        TreeBox(f"b{n}", metal=draw(st.booleans()) if metal is None else metal) for n in range(count)
    )
    cables: list[TreeCable] = []
    carried: dict[str, tuple[str, ...]] = {SOURCE: legs}
    for n in range(count):
        parent = SOURCE if n == 0 else f"b{draw(st.integers(0, n - 1))}"
        available = carried[parent]
        on = available if len(available) == 1 or draw(st.booleans()) else (draw(st.sampled_from(available)),)
        wiring = (
            draw(st.sampled_from(["cable", "metal"])) if metal is None else ("metal" if metal else "cable")
        )
        cables.append(TreeCable(f"c{n}", parent, f"b{n}", on, wiring=wiring))  # type: ignore[arg-type]
        carried[f"b{n}"] = on
    if tangled:
        cables = _tangle(draw, cables, count, legs)
    outlets = [
        TreeOutlet(
            f"o{n}.{m}", f"b{n}", draw(st.sampled_from(["receptacle", "receptacle", "lighting", "switch"])),
            (draw(st.sampled_from(carried[f"b{n}"])),), draw(st.booleans()), draw(st.booleans()),
        )
        for n in range(count)
        for m in range(draw(st.integers(0, most_outlets)))
    ]  # fmt: skip
    if no_gfci:
        outlets = [
            replace(outlet, no_gfci=True)
            if not outlet.needs_gfci and draw(st.integers(0, 5)) == 0
            else outlet
            for outlet in outlets
        ]
    fitted: list[Protector] = []
    for n in range(count if devices else 0):
        fitted.extend(_devices_of(draw, n, cables, outlets, carried[f"b{n}"]))
    source = Source(draw(st.booleans()), draw(st.sampled_from(["", "", "combination"])), len(legs), legs)
    return ProtectionTree(source, boxes, tuple(cables), tuple(outlets), tuple(fitted))


def _tangle(draw: st.DrawFn, cables: list[TreeCable], count: int, legs: tuple[str, ...]) -> list[TreeCable]:
    ends = [SOURCE, *(f"b{n}" for n in range(count))]
    kept = [cable for cable in cables if draw(st.integers(0, 4))]
    for n in range(draw(st.integers(0, 3))):
        a, b = draw(st.sampled_from(ends)), draw(st.sampled_from([*ends, "nowhere"]))
        kept.append(TreeCable(f"x{n}", a, b, (draw(st.sampled_from(legs)),)))
    return kept


def _devices_of(
    draw: st.DrawFn, n: int, cables: list[TreeCable], outlets: list[TreeOutlet], legs: tuple[str, ...]
) -> list[Protector]:
    """Up to two devices in a box, each thing there on the line or on one of them; the second perhaps on the first."""
    here = f"b{n}"
    found: list[Protector] = []
    for m in range(draw(st.sampled_from([0, 0, 1, 1, 2]))):
        gfci, afci = draw(st.sampled_from([(True, False), (True, False), (False, True), (True, True)]))
        found.append(Protector(f"d{n}.{m}", here, gfci, afci, draw(st.sampled_from(legs))))
    if len(found) == 2 and found[0].leg == found[1].leg and draw(st.booleans()):
        found[0] = replace(found[0], load_devices=(found[1].id,))
    for cable in cables:
        if (
            here in (cable.a, cable.b)
            and (fit := [d for d in found if cable.legs == (d.leg,)])
            and draw(st.booleans())
        ):
            if cable.id == f"c{n}":
                continue  # the cable that feeds the box stays on the line side
            chosen = draw(st.sampled_from(fit))
            at = found.index(chosen)
            found[at] = replace(chosen, load_cables=(*chosen.load_cables, cable.id))
    for outlet in outlets:
        fit = [d for d in found if outlet.legs == (d.leg,)]
        if outlet.box == here and fit and draw(st.booleans()):
            chosen = draw(st.sampled_from(fit))
            at = found.index(chosen)
            if chosen.outlet is None and outlet.kind == "receptacle" and draw(st.booleans()):
                found[at] = replace(chosen, outlet=outlet.id)
            else:
                found[at] = replace(chosen, load_outlets=(*chosen.load_outlets, outlet.id))
    return found
