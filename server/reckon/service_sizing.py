"""The rating of a service or feeder and the conductors that go with it.

``size_service(amperes, material, code, work)`` takes a calculated load. The rating is the next standard one, not
below what the code asks of a dwelling's service. Where the conductors carry the whole load of one dwelling at 100
through 400 A, 83 percent of the rating is enough ampacity; otherwise the ampacity covers the load and the rating
may be the next one up, through 800 A. Ampacities are those of the 75 °C column, without correction or adjustment.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from server.dwelling.supply import ConductorMaterial
from server.editions import Edition
from server.reckon.code_rows import number_list
from server.reckon.conductor_sets import SIZE_UNIT, ConductorSet, area_of, smallest_carrying
from server.reckon.conductor_sizes import circular_mils
from server.reckon.dwelling_loads import LoadError, Supply, System
from server.reckon.figures import percent_of, written
from server.reckon.grounding_conductors import bonding_jumper, electrode_conductor, equipment_conductor
from server.reckon.work import SILENT, Work, round_half_up

__all__ = ["ServiceGrounding", "ServiceSize", "size_grounding", "size_service", "standard_rating"]


@dataclass(frozen=True, slots=True)
class ServiceGrounding:
    """What the ungrounded conductors ask of grounding and bonding."""

    gec_copper: str
    gec_aluminum: str
    gec_to_rod: str
    gec_to_concrete: str
    bonding_jumper_copper: str
    bonding_jumper_aluminum: str


@dataclass(frozen=True, slots=True)
class ServiceSize:
    """A rating with its conductors. ``adequate`` is False where given conductors do not carry the rating."""

    rating_a: int
    material: ConductorMaterial
    conductor: ConductorSet
    least_ampacity_a: Fraction
    grounding: ServiceGrounding
    egc_copper: str | None
    egc_aluminum: str | None
    neutral: ConductorSet | None
    adequate: bool


def standard_rating(amperes: Fraction | int, code: Edition, work: Work = SILENT) -> int:
    """The smallest standard rating that is not below so many amperes.

    Raises:
        LoadError: nothing so large is standard.
    """
    for rating in number_list("overcurrent.standard_ratings_a", code, work):
        if rating >= amperes:
            return int(rating)
    raise LoadError(f"expected amperes of at most the largest standard rating, came {written(amperes)}")


def _rating(amperes: int, one_family: bool, supply: Supply, code: Edition, work: Work) -> int:
    """The rating of the disconnect: standard, and for a service not below the least one."""
    rating = standard_rating(amperes, code, work)
    if work:
        work.step(
            f"Next standard rating for {amperes} A", rating, "A", code.cites("overcurrent.standard_ratings_a")
        )
    if supply is Supply.FEEDER:
        return rating
    node = "service.one_family_least_a" if one_family else "service.other_least_a"
    least = int(code.number(node, work))
    if rating < least:
        if work:
            work.step(f"A dwelling's service disconnect is at least {least} A", least, "A", code.cites(node))
        return least
    return rating


def _least_ampacity(
    amperes: int, rating_a: int, whole_dwelling: bool, system: System, code: Edition, work: Work
) -> Fraction:
    """What the conductors must carry for the rating."""
    low, high = number_list("service.dwelling_ratings_a", code, work)
    of_wye = system is System.WYE_THREE_WIRE
    allowed = system is System.SPLIT_PHASE or (of_wye and code.flag("service.dwelling_208", work))
    if whole_dwelling and allowed and low <= rating_a <= high:
        percent = code.number("service.dwelling_percent", work)
        least = percent_of(percent, rating_a)
        if work:
            work.step(
                f"Ampacity for the whole dwelling: {written(percent)} % of {rating_a} A",
                least,
                "A",
                code.cites("service.dwelling_percent"),
            )
        return least
    cites = code.cites("overcurrent.next_size_most_a")
    if work:
        work.skip(
            "83 % of the rating: only for the whole load of one dwelling, single phase, 100 through 400 A",
            code.cites("service.dwelling_percent"),
        )
    if rating_a > code.number("overcurrent.next_size_most_a", work):
        if work:
            work.step(f"Above 800 A the conductors carry the rating: {rating_a} A", rating_a, "A", cites)
        return Fraction(rating_a)
    smaller = [rating for rating in number_list("overcurrent.standard_ratings_a", code) if rating < rating_a]
    # The next rating up from the ampacity must be this one, so the ampacity must exceed the rating below it.
    least = max(Fraction(amperes), smaller[-1] + 1 if smaller else Fraction(1))
    if work:
        work.step(f"Ampacity for {amperes} A, with {rating_a} A as next rating up", least, "A", cites)
    return least


def size_service(
    amperes: Fraction | int,
    material: ConductorMaterial,
    code: Edition,
    work: Work = SILENT,
    *,
    one_family: bool = True,
    whole_dwelling: bool = True,
    supply: Supply = Supply.SERVICE,
    system: System = System.SPLIT_PHASE,
    neutral_a: Fraction | int | None = None,
    installed: ConductorSet | None = None,
) -> ServiceSize:
    """Size a service or feeder for a calculated load in amperes (a half counts up).

    ``one_family`` asks for the least service of a one-family dwelling; ``whole_dwelling`` says that the conductors
    carry the whole load of one dwelling unit. ``installed`` are conductors that are there or chosen: they are
    judged, and grounding and bonding follow them.

    Raises:
        LoadError: the material is none, or the load is above every standard rating.
    """
    whole = round_half_up(amperes)
    rating = _rating(whole, one_family, supply, code, work)
    least = _least_ampacity(whole, rating, whole_dwelling, system, code, work)
    conductor = installed or smallest_carrying(least, material, code, work)
    adequate = conductor.ampacity_a >= least
    if work:
        what = "Conductor given" if installed else "Smallest conductor"
        enough = "" if adequate else ": not enough"
        work.step(
            f"{what}, {material.value} at 75 °C, for {written(least)} A: {conductor} carries "
            f"{written(conductor.ampacity_a)} A{enough}",
            str(conductor), SIZE_UNIT, _ampacity_cites(material, code),
        )  # fmt: skip
    return ServiceSize(
        rating_a=rating,
        material=material,
        conductor=conductor,
        least_ampacity_a=least,
        grounding=size_grounding(conductor, material, code, work),
        egc_copper=equipment_conductor(rating, code, work),
        egc_aluminum=equipment_conductor(rating, code, of=ConductorMaterial.ALUMINUM),
        neutral=_neutral(neutral_a, conductor, material, code, work),
        adequate=adequate,
    )


def size_grounding(
    ungrounded: ConductorSet, material: ConductorMaterial, code: Edition, work: Work = SILENT
) -> ServiceGrounding:
    """Grounding electrode conductor and bonding jumpers for the ungrounded service conductors."""
    aluminum = ConductorMaterial.ALUMINUM
    return ServiceGrounding(
        gec_copper=electrode_conductor(ungrounded, material, code, work),
        gec_aluminum=electrode_conductor(ungrounded, material, code, of=aluminum),
        gec_to_rod=str(code.value("grounding.to_rod", work)),
        gec_to_concrete=str(code.value("grounding.to_concrete", work)),
        bonding_jumper_copper=bonding_jumper(ungrounded, material, code, work),
        bonding_jumper_aluminum=bonding_jumper(ungrounded, material, code, of=aluminum),
    )


def _neutral(
    neutral_a: Fraction | int | None,
    ungrounded: ConductorSet,
    material: ConductorMaterial,
    code: Edition,
    work: Work,
) -> ConductorSet | None:
    """The grounded conductor for its own load, not below the least size for the ungrounded ones, nor above them."""
    if neutral_a is None:
        return None
    whole = round_half_up(neutral_a)
    least = bonding_jumper(ungrounded, material, code, of=material)
    found = ungrounded
    if whole < ungrounded.ampacity_a:
        found = smallest_carrying(
            Fraction(whole), material, code, work, sets=ungrounded.sets, least_cmil=circular_mils(least, code)
        )
    if area_of(found, code) > area_of(ungrounded, code):
        found = ungrounded
    if work:
        work.step(
            f"Neutral for {whole} A, {material.value}, not below {least} and not above the lines", str(found), SIZE_UNIT,
            code.cites("grounding.jumper_rows"),
        )  # fmt: skip
    return found


def _ampacity_cites(material: ConductorMaterial, code: Edition) -> str:
    metal = "copper" if material is ConductorMaterial.COPPER else "aluminum"
    return code.cites(f"conductor.ampacity_{metal}")
