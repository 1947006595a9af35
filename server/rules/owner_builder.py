"""Papers and limits where the owner does the wiring. Where a contractor holds the permit, record “not here”."""

from __future__ import annotations

from server.dwelling import Site, Stage
from server.rules.citing import DEPARTMENT
from server.rules.looks import look
from server.rules.rule import Kind

__all__ = [
    "contractor_own_permit",
    "owner_declaration",
    "owner_does_the_work",
    "owner_knowledge",
    "owner_lives_there",
    "owner_permit_limits",
]

owner_declaration = look(
    id="owner-declaration",
    stage=Stage.PAPERWORK,
    about=Site,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="The owner has signed the declaration",
    why="An owner's permit rests on a signed statement; a false one can void the permit and cost a fine.",
    look_for="The affidavit or declaration as the department words it, signed before the permit was issued, with the proof it asks for.",
    cure="Sign the declaration at the department, with deed and identification if it wants them.",
    plain="Sign the owner's statement at the permit office before you begin.",
)

owner_lives_there = look(
    id="owner-lives-there",
    stage=Stage.PAPERWORK,
    about=Site,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="The owner lives in the house, or will",
    why="The exemption is for one's own home; many places presume otherwise of a house that is rented or sold within a year.",
    look_for="A one-family house of one's own, not for rent, lease or sale, lived in or to be lived in within the time the place sets.",
    cure="Have a licensed contractor take the permit over if the house is for rent or sale.",
    plain="You can wire only the house you live in, not one you rent out or plan to sell.",
)

owner_does_the_work = look(
    id="owner-does-the-work",
    stage=Stage.PAPERWORK,
    about=Site,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="The owner does the work in person",
    why="Paid or unlicensed help makes it contracting without a license, for the helper and for the owner.",
    look_for="Nobody without a license is paid or helps, family only where the place allows it.",
    cure="Send the help home, or hire a licensed electrician for that part under a permit of their own.",
    mistakes="The brother-in-law who “has done this before”.",
    plain="Under an owner's permit you must do the wiring yourself.",
)

owner_knowledge = look(
    id="owner-knowledge",
    stage=Stage.PAPERWORK,
    about=Site,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="The owner has shown the knowledge that the place asks for",
    why="Some places test, interview or meet the owner first; inspectors are not teachers.",
    look_for="The test, interview, preliminary meeting or statement, and a sketch with wire and breaker sizes where one is wanted.",
    cure="Ask for the meeting or test, and bring a sketch of the circuits.",
    plain="Some towns want a test or a talk before they let you do your own wiring.",
    danger="If you cannot say how you would prove a circuit dead, hire a licensed electrician.",
)

owner_permit_limits = look(
    id="owner-permit-limits",
    stage=Stage.PAPERWORK,
    about=Site,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="The limits of an owner's permit are kept",
    why="Places that allow owners to wire often keep something back: the service, a new house, pools, a second permit in a year.",
    look_for="What the place leaves to contractors: service equipment, new construction, pools and hot tubs, more than one project in a period.",
    cure="Give the part that is kept back to a licensed contractor with a permit of its own.",
    plain="Ask what owners may not do in your town. Often that is the main panel and hot tubs.",
)

contractor_own_permit = look(
    id="contractor-own-permit",
    stage=Stage.PAPERWORK,
    about=Site,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="No contractor works under the owner's permit",
    why="The owner would answer for the contractor's work, and the contractor would have no inspection.",
    look_for="Every contractor on the house named on a permit of its own.",
    cure="Have the contractor draw a permit, or stop that work.",
    mistakes="A handyman who asks the owner to “pull the permit”.",
    plain="If a contractor asks you to take out the permit in your name, say no.",
)
