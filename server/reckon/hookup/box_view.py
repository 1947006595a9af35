"""One box of a hookup as the person at it sees it: every conductor with its color, where it goes, what it joins."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from server.reckon.hookup.result import CableEnd, CablePlan, Hookup, Join, Terminal

__all__ = ["BoxView", "ConductorView", "JoinView", "box_view"]

_LETTERS: Final = {
    "black": "B",
    "red": "R",
    "blue": "Bl",
    "white": "W",
    "gray": "Gy",
    "orange": "O",
    "yellow": "Y",
    "brown": "Br",
    "green": "G",
    "bare": "bare",
}
"""What is written beside a conductor, so that nobody depends on seeing its color."""


@dataclass(frozen=True, slots=True)
class ConductorView:
    """A conductor's end in the box: its insulation and letter, the color of its band where it is re-identified, its
    cable, and the node that this leads to."""

    cable: str
    toward: str
    color: str
    letter: str
    band: str | None = None


@dataclass(frozen=True, slots=True)
class JoinView:
    """Ends that are joined: conductors, and device terminals.

    ``is_splice`` where it takes a connector, from which ``pigtails`` go to terminals; ``is_capped`` for a single
    conductor kept for later. The ground's join takes in every device and a metal box besides.
    """

    signal: str
    conductors: tuple[ConductorView, ...]
    terminals: tuple[Terminal, ...]
    is_splice: bool
    is_capped: bool
    pigtails: int
    is_ground: bool = False


@dataclass(frozen=True, slots=True)
class BoxView:
    """A box: its joins, the ground's last, and the conductors that are left over and capped at both ends."""

    node: str
    joins: tuple[JoinView, ...]
    spare: tuple[ConductorView, ...]


def box_view(hookup: Hookup, node: str) -> BoxView:
    """One box of a hookup that is possible.

    Raises:
        ValueError: the hookup has no plan, or the plan has no such node.
    """
    box = next((box for box in hookup.plan.boxes if box.node == node), None) if hookup.plan else None
    if box is None or hookup.plan is None:
        raise ValueError(f"expected a node of a hookup that is possible, came {node!r}")
    here = {cable.id: cable for cable in hookup.plan.cables if node in (cable.a, cable.b)}
    joins = [_join(join, here, node) for join in box.joins]
    if box.grounds:
        joins.append(
            JoinView(
                "ground",
                tuple(_conductor(end, here, node) for end in box.grounds),
                (),
                is_splice=len(box.grounds) > 1,
                is_capped=False,
                pigtails=0,
                is_ground=True,
            )
        )
    spare = tuple(
        _conductor(CableEnd(cable.id, conductor.color), here, node)
        for cable in here.values()
        for conductor in cable.conductors
        if conductor.signal is None
    )
    return BoxView(node, tuple(joins), spare)


def _join(join: Join, here: dict[str, CablePlan], node: str) -> JoinView:
    return JoinView(
        join.signal,
        tuple(_conductor(end, here, node) for end in join.ends if isinstance(end, CableEnd)),
        tuple(end for end in join.ends if isinstance(end, Terminal)),
        is_splice=join.is_splice,
        is_capped=join.capped,
        pigtails=join.pigtails,
    )


def _conductor(end: CableEnd, here: dict[str, CablePlan], node: str) -> ConductorView:
    cable = here[end.cable]
    band = next((c.reidentified_as for c in cable.conductors if c.color == end.color), None)
    toward = cable.b if cable.a == node else cable.a
    return ConductorView(cable.id, toward, end.color, _letter(end.color), band)


def _letter(color: str) -> str:
    return "/".join(_LETTERS.get(part, part) for part in color.split("/"))
