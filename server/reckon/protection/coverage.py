"""Who has protection: GFCI and AFCI followed from breaker and device to every outlet of a circuit."""

from __future__ import annotations

from dataclasses import dataclass

from server.editions import Edition
from server.reckon.protection.afci_means import Means, afci_means
from server.reckon.protection.feeds import ROOT, Bus, Feeds, Problem, Step
from server.reckon.protection.tree import SOURCE, ProtectionTree, Protector, TreeOutlet
from server.reckon.work import SILENT, Work

__all__ = ["Coverage", "OutletCoverage", "trace_protection"]


@dataclass(frozen=True, slots=True)
class OutletCoverage:
    """By what an outlet is protected (``source`` for the breaker, else a device's id), and what it lacks.

    ``lacks`` holds ``"feed"``, ``"gfci"``, ``"afci"``, and ``"no gfci"`` where it must not be behind one.
    """

    outlet: str
    box: str
    fed: bool
    gfci_by: str | None
    afci_by: str | None
    lacks: tuple[str, ...]
    why: str


@dataclass(frozen=True, slots=True)
class Coverage:
    """The circuit's outlets in order, and what is wrong or not entered about its wiring."""

    outlets: tuple[OutletCoverage, ...]
    problems: tuple[Problem, ...]

    @property
    def lacking(self) -> tuple[OutletCoverage, ...]:
        """The outlets that lack something."""
        return tuple(outlet for outlet in self.outlets if outlet.lacks)


def trace_protection(tree: ProtectionTree, code: Edition, work: Work = SILENT) -> Coverage:
    """Follow protection from the source to every outlet.

    Never raises on odd wiring: loops, loose cables, devices fed backwards and unfed boxes become problems with a
    sentence, and an outlet counts as protected only where every way to it is.
    """
    feeds = Feeds(tree)
    traces = {leg: _trace(leg, feeds, code) for leg in tree.source.legs}
    problems = [
        *feeds.problems,
        *_source_problems(tree),
        *(found for trace in traces.values() for found in trace.problems),
    ]
    problems.extend(_islands(feeds, traces))
    outlets = [_cover(outlet, feeds, traces) for outlet in tree.outlets]
    if work:
        for found in problems:
            work.step(found.sentence)
        for outlet in outlets:
            work.step(outlet.why, not outlet.lacks)
    return Coverage(tuple(outlets), tuple(problems))


@dataclass(slots=True)
class _Trace:
    """One leg: every bus that is fed, those that are fed bare of GFCI and of AFCI, and by which step each was."""

    came: dict[Bus, Step | None]
    bare_of_gfci: frozenset[Bus]
    bare_of_afci: frozenset[Bus]
    afci_devices: frozenset[str]
    source_gfci: bool
    source_afci: bool
    problems: list[Problem]


def _trace(leg: str, feeds: Feeds, code: Edition) -> _Trace:
    tree = feeds.tree
    came = feeds.reach(leg)
    devices = [device for device in feeds.devices.values() if device.leg == leg]
    problems: list[Problem] = []
    gfci = {device.id for device in devices if device.gfci}
    afci: set[str] = set()
    for device in devices:
        if _fed_backwards(device, feeds, came, leg):
            problems.append(_backwards(device, feeds))
        if device.afci:
            means = afci_means(device, feeds, came, code)
            if means.holds:
                afci.add(device.id)
            else:
                problems.append(_no_means(device, means, feeds))
        problems.extend(_unreachable(device, feeds, code))
    whole = _breaker_works(tree)
    source_gfci = tree.source.gfci and whole
    source_afci = tree.source.arc == "combination" and whole
    return _Trace(
        came,
        frozenset() if source_gfci else frozenset(feeds.reach(leg, gfci)),
        frozenset() if source_afci else frozenset(feeds.reach(leg, afci)),
        frozenset(afci),
        source_gfci,
        source_afci,
        problems,
    )


def _breaker_works(tree: ProtectionTree) -> bool:
    """Two single-pole protecting breakers cannot share a grounded conductor: each sees the other's current."""
    shared = any(len(cable.legs) > 1 for cable in tree.cables)
    return not (shared and tree.source.poles == 1)


def _islands(feeds: Feeds, traces: dict[str, _Trace]) -> list[Problem]:
    """Boxes that no cable of the circuit leads to from the panel."""
    reached = {
        feeds.devices[where].box if kind == "load" else where
        for trace in traces.values()
        for kind, where in trace.came
    }
    cut = [box for box in feeds.boxes if box not in reached]
    if not cut:
        return []
    if len(cut) == len(feeds.boxes):
        return [Problem("no home run", "No cable of this circuit leads from the panel to a box.")]
    names = ", ".join(feeds.name(box) for box in cut)
    return [Problem("not fed", f"No cable of this circuit leads from the panel to box {names}.", cut[0])]


def _source_problems(tree: ProtectionTree) -> list[Problem]:
    if (tree.source.gfci or tree.source.arc) and not _breaker_works(tree):
        cable = next(cable for cable in tree.cables if len(cable.legs) > 1)
        sentence = f"The legs share the grounded conductor of cable {cable.id}; two single-pole protecting breakers would trip. Use a two-pole one."
        return [Problem("shared neutral", sentence, cable=cable.id)]
    return []


def _fed_backwards(device: Protector, feeds: Feeds, came: dict[Bus, Step | None], leg: str) -> bool:
    """Whether power comes to the load side by a way other than through the device."""
    return ("load", device.id) in came and ("load", device.id) in feeds.reach(leg, {device.id})


def _backwards(device: Protector, feeds: Feeds) -> Problem:
    cable = device.load_cables[0] if device.load_cables else ""
    sentence = f"Device {device.id} in box {feeds.name(device.box)} is fed at its load terminals{' by cable ' + cable if cable else ''}; it protects nothing that way. Line and load are exchanged, or two feeds meet."
    return Problem("line and load", sentence, device.box, cable, device.id)


def _no_means(device: Protector, means: Means, feeds: Feeds) -> Problem:
    sentence = f"AFCI device {device.id} in box {feeds.name(device.box)} does not yet count ({means.article}): {means.why}"
    return Problem(
        "afci means unknown" if means.holds is None else "afci means", sentence, device.box, device=device.id
    )


def _unreachable(device: Protector, feeds: Feeds, code: Edition) -> list[Problem]:
    found = []
    for has, node, what in (
        (device.gfci, "gfci.device.readily_accessible", "GFCI"),
        (device.afci, "afci.device.readily_accessible", "AFCI"),
    ):
        if has and device.readily_accessible is False and code.flag(node):
            sentence = f"{what} device {device.id} in box {feeds.name(device.box)} is not readily accessible, as {code.cites(node)} asks."
            found.append(Problem("not accessible", sentence, device.box, device=device.id))
    return found


def _cover(outlet: TreeOutlet, feeds: Feeds, traces: dict[str, _Trace]) -> OutletCoverage:
    """One outlet, over all its legs: fed and protected only where each leg is."""
    bus = feeds.outlet_bus(outlet)
    legs = [traces.get(leg) for leg in outlet.legs]
    fed = outlet.id in feeds.outlets and all(trace is not None and bus in trace.came for trace in legs)
    gfci_by = afci_by = None
    if fed:
        known = [trace for trace in legs if trace is not None]
        if not any(bus in trace.bare_of_gfci for trace in known):
            gfci_by = _by(bus, known[0], feeds, "gfci")
        if not any(bus in trace.bare_of_afci for trace in known):
            afci_by = _by(bus, known[0], feeds, "afci")
    lacks = tuple(
        what
        for what, lacking in (
            ("feed", not fed),
            ("gfci", outlet.needs_gfci and gfci_by is None),
            ("afci", outlet.needs_afci and afci_by is None),
            ("no gfci", outlet.no_gfci and gfci_by is not None),
        )
        if lacking
    )
    return OutletCoverage(
        outlet.id, outlet.box, fed, gfci_by, afci_by, lacks, _why(outlet, feeds, gfci_by, afci_by, lacks)
    )


def _by(bus: Bus, trace: _Trace, feeds: Feeds, what: str) -> str:
    """The nearest device upstream that gives the protection, or the source."""
    while bus != ROOT:
        step = trace.came[bus]
        assert step is not None
        if step.device and (
            feeds.devices[step.device].gfci if what == "gfci" else step.device in trace.afci_devices
        ):
            return step.device
        bus = step.to
    return SOURCE


def _why(
    outlet: TreeOutlet, feeds: Feeds, gfci_by: str | None, afci_by: str | None, lacks: tuple[str, ...]
) -> str:
    name = f"{outlet.label or outlet.id} in box {feeds.name(outlet.box)}"
    if "feed" in lacks:
        return f"{name} is not fed: no cable of this circuit leads to it{' on leg ' + ' and '.join(outlet.legs) if outlet.legs != ('A',) else ''}."
    parts = [
        f"{what} from {'the breaker' if by == SOURCE else by}"
        for what, by in (("GFCI", gfci_by), ("AFCI", afci_by))
        if by
    ]
    has = " and ".join(parts) or "no protection"
    wants = [word for word, what in (("GFCI", "gfci"), ("AFCI", "afci")) if what in lacks]
    if wants:
        return f"{name} has {has}; it lacks {' and '.join(wants)}."
    if "no gfci" in lacks:
        return f"{name} has {has}; it must not be behind a GFCI."
    return f"{name} has {has}."
