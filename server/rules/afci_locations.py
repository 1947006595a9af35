"""Outlets and devices whose circuit needs arc-fault protection, and whether it reaches them."""

from __future__ import annotations

from server.dwelling import Device, Dwelling, Stage
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.citing import moved
from server.rules.outcome import Outcome
from server.rules.protected_outlets import SAYS, judge_protection
from server.rules.rule import rule

__all__ = ["afci_protection"]


@rule(
    id="afci-locations",
    stage=Stage.ROUGH_IN,
    about=Device,
    cites=moved(e2017="210.12(A)", e2023="210.12(B)"),
    title="The circuit has arc-fault protection where it needs it",
    why="A loose terminal or a nail through a cable arcs for weeks without ever drawing enough to trip an ordinary "
    "breaker, and sets the wall on fire.",
    look_for="Every 120 V circuit with an outlet or a switch in a bedroom, living space, hall, closet, kitchen or laundry: a "
    "combination AFCI breaker, or one of the listed ways with a device at the first outlet.",
    cure="Put the circuit on a combination AFCI breaker (one with GFCI too where outlets of it need that).",
    says=SAYS,
    cures={"unprotected": "{cure}", "breakers-share": "{cure}"},
    mistakes="Leaving out the smoke alarm circuit, or the bathroom light that hangs on the bedroom circuit; an arc-fault "
    "receptacle in the second box.",
    plain="Circuits for bedrooms, living rooms, halls, closets, kitchens and laundries need an arc-fault breaker.",
)
def afci_protection(device: Device, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """What 210.12 asks of the outlet's or switch's circuit against what protects it."""
    return judge_protection(device, "afci", house, code, work)
