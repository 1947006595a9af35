"""May an AFCI device at a box stand for an AFCI breaker? 210.12(A)(1) to (6), and the easier rules for old circuits.

(1) combination breaker · (2) branch/feeder AFCI breaker and a device at the first outlet · (3) supplemental arc
breaker, (4) an ordinary breaker listed with the device: both with a continuous home run of limited length · (5) metal
wiring and boxes up to the first outlet · (6) the home run in concrete. (2) to (4) ask for the first box to be marked.
An extended circuit: at its first receptacle outlet (in 2026 or switch). A replaced receptacle: itself or upstream.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from server.editions import Edition
from server.reckon.protection.feeds import ROOT, Bus, Feeds, Step
from server.reckon.protection.tree import Protector, TreeBox, TreeCable

__all__ = ["Means", "afci_means"]


@dataclass(frozen=True, slots=True)
class Means:
    """Whether a device protects by one of the means: yes, no, or unknown with what is missing."""

    holds: bool | None
    article: str
    why: str
    missing: tuple[str, ...] = ()


def afci_means(device: Protector, feeds: Feeds, came: dict[Bus, Step | None], code: Edition) -> Means:
    """By which means an AFCI device protects what follows it; ``came`` is the reach of its leg."""
    tree = feeds.tree
    if tree.work_on == "replacement":
        return Means(
            True,
            code.cites("afci.replacement"),
            "A replaced receptacle may be protected at itself or upstream.",
        )
    bus = feeds.device_bus(device)
    if bus not in came:
        return Means(False, "210.12", f"Device {device.id} is not fed.")
    cables, boxes = _home_run(bus, feeds, came)
    before = [box for box in boxes if box.id != device.box]
    if tree.work_on == "extension":
        kinds = code.names("afci.extension.first_device")
        earlier = [box for box in before if any(o.kind in kinds for o in feeds.in_box.get(box.id, ()))]
        article = code.cites("afci.extension.first_device")
        if earlier:
            return Means(
                False,
                article,
                f"Box {_name(earlier[0])} comes first and holds a {' or '.join(kinds)}: the device belongs there.",
            )
        return Means(
            True, article, "The device is at the first " + " or ".join(kinds) + " of the old circuit."
        )
    ahead = [box for box in before if box.id in feeds.in_box]
    if ahead:
        return Means(
            False,
            "210.12(A)",
            f"Box {_name(ahead[0])} holds an outlet ahead of device {device.id}: the device belongs in the first outlet box.",
        )
    tried = [
        _branch_feeder(device, feeds),
        _listed_pair(device, feeds, cables, code),
        _wiring("metal", "metal wiring", "210.12(A)(5)", cables, boxes),
        _wiring(
            "concrete",
            f"{code.number('afci.means.concrete_in')} in of concrete",
            "210.12(A)(6)",
            cables,
            boxes,
        ),
    ]
    for means in tried:
        if means.holds:
            return means
    if open_ := [means for means in tried if means.holds is None]:
        missing = tuple(dict.fromkeys(fact for means in open_ for fact in means.missing))
        return Means(None, open_[0].article, f"Not settled: {', '.join(missing)}.", missing)
    return Means(False, "210.12(A)", "; ".join(means.why for means in tried) + ".")


def _home_run(bus: Bus, feeds: Feeds, came: dict[Bus, Step | None]) -> tuple[list[TreeCable], list[TreeBox]]:
    """Cables and boxes from the panel to a bus, nearest the bus first."""
    cables: list[TreeCable] = []
    boxes: dict[str, TreeBox] = {}
    while bus != ROOT:
        kind, where = bus
        box = feeds.devices[where].box if kind == "load" else where
        boxes.setdefault(box, feeds.boxes[box])
        step = came[bus]
        assert step is not None
        if step.cable:
            cables.append(feeds.cables[step.cable])
        bus = step.to
    return cables, list(boxes.values())


def _marked(device: Protector, feeds: Feeds) -> tuple[bool | None, tuple[str, ...]]:
    box = feeds.boxes[device.box]
    if box.marked_first is None:
        return None, (f"whether box {_name(box)} is marked as the first outlet",)
    return box.marked_first, ()


def _branch_feeder(device: Protector, feeds: Feeds) -> Means:
    article = "210.12(A)(2)"
    if feeds.tree.source.arc != "branch/feeder":
        return Means(False, article, "the breaker is no branch/feeder AFCI")
    marked, missing = _marked(device, feeds)
    return Means(
        marked,
        article,
        "the first box is not marked"
        if marked is False
        else "Branch/feeder AFCI breaker and device at the first outlet.",
        missing,
    )


def _listed_pair(device: Protector, feeds: Feeds, cables: Sequence[TreeCable], code: Edition) -> Means:
    """(3) and (4): a continuous home run, no longer than its size allows."""
    supplemental = feeds.tree.source.arc == "supplemental"
    article = "210.12(A)(3)" if supplemental else "210.12(A)(4)"
    if not supplemental and device.listed_with_breaker is not True:
        return Means(False, article, "breaker and device are not listed as a pair")
    if len(cables) != 1:
        return Means(False, article, "the home run is spliced on its way")
    run = cables[0]
    missing = [
        f"the {what} of cable {run.id}"
        for what, value in (("size", run.awg), ("length", run.length_ft))
        if value is None
    ]
    marked, unmarked = _marked(device, feeds)
    limit = code.table("afci.means.home_run_ft").get(run.awg or "")
    if run.awg is not None and limit is None:
        return Means(False, article, f"no length is given for {run.awg} AWG")
    if run.length_ft is not None and isinstance(limit, Fraction | int) and run.length_ft > limit:
        return Means(
            False,
            article,
            f"the home run is {float(run.length_ft):g} ft, more than {limit} ft of {run.awg} AWG",
        )
    if marked is False:
        return Means(False, article, "the first box is not marked")
    if missing or unmarked:
        return Means(None, article, "", (*missing, *unmarked))
    return Means(
        True,
        article,
        f"Home run of {float(run.length_ft or 0):g} ft, not more than {limit} ft of {run.awg} AWG.",
    )


def _wiring(
    kind: str, words: str, article: str, cables: Sequence[TreeCable], boxes: Sequence[TreeBox]
) -> Means:
    """(5) and (6): every cable of the home run of that kind, every box on it metal."""
    wrong = [cable for cable in cables if cable.wiring is not None and cable.wiring != kind]
    if wrong:
        return Means(False, article, f"cable {wrong[0].id} is not in {words}")
    plastic = [box for box in boxes if box.metal is False]
    if plastic:
        return Means(False, article, f"box {_name(plastic[0])} is not metal")
    missing = [f"the wiring method of cable {cable.id}" for cable in cables if cable.wiring is None]
    missing += [f"whether box {_name(box)} is metal" for box in boxes if box.metal is None]
    if missing:
        return Means(None, article, "", tuple(missing))
    return Means(True, article, f"The home run is in {words}, with metal boxes.")


def _name(box: TreeBox) -> str:
    return box.label or box.id
