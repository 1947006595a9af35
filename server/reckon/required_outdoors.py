"""Receptacle outlets that a dwelling must have outdoors: front and back, balconies, decks and porches (210.52(E))."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from server.dwelling.length import Inches, format_length
from server.editions.edition import Edition
from server.reckon.receptacles_that_count import Uncounted
from server.reckon.required_receptacles import DwellingKind, Required, answered
from server.reckon.work import SILENT, Work

__all__ = ["Deck", "OutdoorReceptacle", "deck_receptacle", "front_and_back_receptacles"]


@dataclass(frozen=True, slots=True, kw_only=True)
class OutdoorReceptacle:
    """An outdoor receptacle. ``side`` of the house (front, back ...), ``above_grade_in`` or ``above_deck_in`` its
    height over the ground or the deck it serves, ``from_grade`` whether someone on the ground can walk up to
    it, ``via_stair`` whether that needs a stair up to a deck or porch."""

    id: str
    side: str = ""
    above_grade_in: Inches | None = None
    above_deck_in: Inches | None = None
    from_grade: bool | None = None
    via_stair: bool = False
    deck: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Deck:
    """A balcony, deck or porch: whether attached and reached from inside, and its horizontal gap to the house."""

    id: str
    attached: bool | None = None
    from_inside: bool | None = None
    gap_in: Inches | None = None


def front_and_back_receptacles(
    receptacles: Sequence[OutdoorReceptacle],
    code: Edition,
    work: Work = SILENT,
    *,
    dwelling: DwellingKind = "one-family",
    at_grade: bool | None = True,
    own_entrance: bool | None = True,
) -> tuple[Required, ...]:
    """One receptacle at the front and one at the back of a house at grade, readily accessible from grade and
    not over 6 1/2 ft above it (210.52(E)(1)); one for a multifamily unit at grade with its own entrance."""
    single = dwelling == "multifamily"
    node = "outlet.outdoor.multifamily" if single else "outlet.outdoor.sides"
    sides = ("",) if single else code.names(node, work)
    if single:
        code.number(node, work)
    reached = at_grade and own_entrance if single else at_grade
    answers = []
    for side in sides:
        subject = side or "the unit"
        cites = code.cites(node)
        if reached is False:
            answers.append(answered("outdoors", subject, 0, "not at grade: none required", cites, work))
            continue
        here = [each for each in receptacles if single or each.side == side]
        counted, refused, unseen, asks = _from_grade(here, code, work, cites)
        if reached is None:
            unseen.append(
                "whether the unit is at grade level" + (" with an entrance of its own" if single else "")
            )
        why = (
            "one readily accessible from grade"
            if single
            else f"one at the {side}, readily accessible from grade"
        )
        answers.append(
            answered(
                "outdoors",
                subject,
                1,
                why,
                cites,
                work,
                counted=counted,
                uncounted=refused,
                unseen=unseen,
                inspector=asks,
            )
        )
    return tuple(answers)


def _from_grade(
    here: Sequence[OutdoorReceptacle], code: Edition, work: Work, cites: str
) -> tuple[list[str], list[Uncounted], list[str], list[str]]:
    highest = code.number("outlet.outdoor.height_max_in", work)
    counted: list[str] = []
    refused: list[Uncounted] = []
    unseen: list[str] = []
    asks: list[str] = []
    for each in here:
        if each.above_grade_in is not None and each.above_grade_in > highest:
            above = format_length(each.above_grade_in)
            refused.append(
                Uncounted(each.id, f"{above} above grade; more than {format_length(highest)}", cites)
            )
        elif each.from_grade is False:
            refused.append(Uncounted(each.id, "nobody on the ground can reach it", cites))
        elif each.above_grade_in is None:
            unseen.append(f"receptacle {each.id}: its height above grade")
        elif each.from_grade is None:
            unseen.append(f"receptacle {each.id}: whether it is readily accessible from grade")
        else:
            counted.append(each.id)
            if each.via_stair:
                asks.append(f"whether receptacle {each.id}, up a stair, is readily accessible from grade")
    return counted, refused, unseen, asks


def deck_receptacle(
    deck: Deck, receptacles: Sequence[OutdoorReceptacle], code: Edition, work: Work = SILENT
) -> Required:
    """One receptacle usable from a balcony, deck or porch, not over 6 1/2 ft above its floor (210.52(E)(3)).

    2017: where it is attached and reached from inside. From 2020: where it lies within 4 in of the dwelling.
    """
    highest = code.number("outlet.outdoor.height_max_in", work)
    reached: bool | None
    if code.flag("outlet.deck.attached_and_from_inside", work):
        node, missing = (
            "outlet.deck.attached_and_from_inside",
            "whether it is attached and reached from inside",
        )
        known = (deck.attached, deck.from_inside)
        reached = False if False in known else (None if None in known else True)
        no = "not attached, or not reached from inside: none required"
    else:
        node, missing = "outlet.deck.near_in", "its gap to the house"
        near = code.number(node, work)
        gap = 0 if deck.gap_in is None and deck.attached else deck.gap_in
        reached = None if gap is None else gap <= near
        no = f"more than {format_length(near)} from the house: none required"
    cites = code.cites(node)
    if reached is False:
        return answered("deck", deck.id, 0, no, cites, work)
    counted: list[str] = []
    refused: list[Uncounted] = []
    unseen: list[str] = [] if reached else [missing]
    for each in receptacles:
        if each.deck != deck.id:
            continue
        if each.above_deck_in is None:
            unseen.append(f"receptacle {each.id}: its height above the deck")
        elif each.above_deck_in > highest:
            above = format_length(each.above_deck_in)
            refused.append(
                Uncounted(each.id, f"{above} above the deck; more than {format_length(highest)}", cites)
            )
        else:
            counted.append(each.id)
    return answered(
        "deck",
        deck.id,
        1,
        "one usable from it",
        cites,
        work,
        counted=counted,
        uncounted=refused,
        unseen=unseen,
    )
