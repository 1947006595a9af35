"""Required receptacles beside spacing: each limit from three sides, each edition's own rule, published answers."""

from __future__ import annotations

from fractions import Fraction

import pytest

from server.editions import YEARS, load_edition
from server.reckon.receptacles_that_count import Receptacle
from server.reckon.required_outdoors import (
    Deck,
    OutdoorReceptacle,
    deck_receptacle,
    front_and_back_receptacles,
)
from server.reckon.required_receptacles import (
    Basin,
    BathReceptacle,
    Equipment,
    EquipmentReceptacle,
    GarageReceptacle,
    Hallway,
    Required,
    appliance_receptacle,
    bathroom_receptacles,
    equipment_receptacle,
    garage_and_basement_receptacles,
    hallway_receptacle,
    laundry_receptacle,
    service_receptacle,
)
from server.reckon.work import Work

F = Fraction
SIXTEENTH = F(1, 16)
every_year = pytest.mark.parametrize("year", YEARS)


def plain(name: str = "r", **more: object) -> Receptacle:
    return Receptacle(id=name, **{"height_in": F(16), **more})  # type: ignore[arg-type]


# --- Hallway -------------------------------------------------------------------------------------------


@every_year
@pytest.mark.parametrize(
    ("length", "required"), [(120, 1), (120 - SIXTEENTH, 0), (120 + SIXTEENTH, 1), (258, 1)]
)
def test_a_hallway_of_ten_feet_needs_one(year: int, length: Fraction, required: int) -> None:
    found = hallway_receptacle(Hallway("hall", F(length)), load_edition(year))

    assert (found.required, found.short_by, found.complies) == (required, required, required == 0)
    assert hallway_receptacle(Hallway("hall", F(length), (plain(),)), load_edition(year)).complies is True


def test_a_hallway_receptacle_too_high_does_not_count() -> None:
    hall = Hallway("hall", F(150), (plain(height_in=66 + SIXTEENTH),))

    found = hallway_receptacle(hall, load_edition(2023))

    assert (found.short_by, found.uncounted[0].receptacle) == (1, "r")


def test_a_hallway_of_unknown_length_is_unseen() -> None:
    found = hallway_receptacle(Hallway("hall", None), load_edition(2023))

    assert (found.required, found.complies, len(found.unseen)) == (None, None, 1)


# --- Bathroom ------------------------------------------------------------------------------------------


def bath(away: object, name: str = "r", **more: object) -> BathReceptacle:
    return BathReceptacle(plain(name, height_in=F(42)), {"basin": F(away)}, **more)  # type: ignore[arg-type]


def at_basin(*receptacles: BathReceptacle, year: int = 2023) -> Required:
    (found,) = bathroom_receptacles([Basin("basin")], receptacles, load_edition(year))
    return found


@every_year
@pytest.mark.parametrize("away", [36, 36 - SIXTEENTH, 36 + SIXTEENTH])
def test_a_receptacle_stands_within_three_feet_of_the_basins_edge(year: int, away: Fraction) -> None:
    assert at_basin(bath(away), year=year).complies is (away <= 36)


@every_year
@pytest.mark.parametrize("below", [12, 12 - SIXTEENTH, 12 + SIXTEENTH])
@pytest.mark.parametrize("where", ["wall", "cabinet"])
def test_it_stands_at_most_a_foot_below_the_top(year: int, where: str, below: Fraction) -> None:
    assert at_basin(bath(10, where=where, below_top_in=F(below)), year=year).complies is (below <= 12)


def test_what_is_not_known_of_a_receptacle_matters_only_where_no_other_serves() -> None:
    unknown = BathReceptacle(plain("u"), {})

    assert at_basin(unknown).complies is None
    assert at_basin(unknown, bath(10)).unseen == ()
    assert at_basin(bath(10, where="cabinet")).complies is None


def test_in_the_counter_it_must_be_listed_for_that() -> None:
    assert at_basin(bath(10, where="counter", listed_for_counter=False)).complies is False
    assert at_basin(bath(10, where="counter", listed_for_counter=True)).complies is True


def test_inside_the_medicine_cabinet_it_does_not_count() -> None:
    inside = BathReceptacle(plain(fixed_in="medicine cabinet"), {"basin": F(5)})

    assert at_basin(inside).complies is False


def test_published_one_between_two_basins_serves_both_if_near_enough_to_each() -> None:
    """EC&M, Code Q&A: bathroom receptacle location; the same: Mike Holt Forums, "How many receptacles", two basins
    less than 6 ft apart."""
    basins = [Basin("left"), Basin("right")]
    between = BathReceptacle(plain(height_in=F(42)), {"left": F(35), "right": F(36)})
    too_far = BathReceptacle(plain(height_in=F(42)), {"left": F(35), "right": F(37)})

    code = load_edition(2023)
    assert [each.complies for each in bathroom_receptacles(basins, [between], code)] == [True, True]
    assert [each.complies for each in bathroom_receptacles(basins, [too_far], code)] == [True, False]


def test_published_dispute_beyond_the_second_basin_the_distance_is_met_and_the_inspector_is_asked() -> None:
    """The Building Code Forum, "Bathroom receptacle location, two basins" (2012): experts split."""
    basins = [Basin("left"), Basin("right")]
    one = BathReceptacle(plain(height_in=F(42)), {"left": F(34), "right": F(4)})

    found = bathroom_receptacles(basins, [one], load_edition(2017))

    assert [each.complies for each in found] == [True, True]
    assert all(each.inspector for each in found)


# --- Outdoors ------------------------------------------------------------------------------------------


def outdoor(name: str, **more: object) -> OutdoorReceptacle:
    given = {"above_grade_in": F(30), "from_grade": True, **more}
    return OutdoorReceptacle(id=name, **given)  # type: ignore[arg-type]


@every_year
def test_a_house_needs_one_at_the_front_and_one_at_the_back(year: int) -> None:
    code = load_edition(year)

    both = front_and_back_receptacles([outdoor("f", side="front"), outdoor("b", side="back")], code)
    one = front_and_back_receptacles([outdoor("f", side="front"), outdoor("s", side="left")], code)

    assert [(each.subject, each.complies) for each in both] == [("front", True), ("back", True)]
    assert [(each.subject, each.complies) for each in one] == [("front", True), ("back", False)]


@every_year
@pytest.mark.parametrize("height", [78, 78 - SIXTEENTH, 78 + SIXTEENTH])
def test_it_stands_at_most_six_and_a_half_feet_above_grade(year: int, height: Fraction) -> None:
    there = outdoor("f", side="front", above_grade_in=F(height))

    front, _ = front_and_back_receptacles([there], load_edition(year))

    assert front.complies is (height <= 78)


def test_out_of_reach_from_the_ground_it_does_not_count_and_unknown_it_is_unseen() -> None:
    code = load_edition(2023)

    def front(**more: object) -> bool | None:
        return front_and_back_receptacles([outdoor("f", side="front", **more)], code)[0].complies

    assert front(from_grade=False) is False
    assert front(from_grade=None) is None
    assert front(above_grade_in=None) is None


def test_published_disagreement_a_receptacle_up_a_stair_counts_and_the_inspector_is_asked() -> None:
    """EC&M Code Q&A 52 says no to a raised porch under wording since replaced ("at grade level"); the Handbook's
    remark quoted at ElectricianTalk says yes where someone on the ground can reach it."""
    there = outdoor("f", side="front", via_stair=True)

    front, _ = front_and_back_receptacles([there], load_edition(2017))

    assert front.complies is True
    assert front.inspector


def test_a_multifamily_unit_at_grade_with_its_own_entrance_needs_one() -> None:
    code = load_edition(2023)
    (one,) = front_and_back_receptacles([outdoor("x")], code, dwelling="multifamily")
    (none,) = front_and_back_receptacles([], code, dwelling="multifamily")
    (upstairs,) = front_and_back_receptacles([], code, dwelling="multifamily", at_grade=False)
    (unknown,) = front_and_back_receptacles([], code, dwelling="multifamily", own_entrance=None)

    assert [one.complies, none.complies, upstairs.complies, unknown.complies] == [True, False, True, None]


@pytest.mark.parametrize(
    ("deck", "years"),
    [
        (Deck(id="d", attached=True, from_inside=True), {2017, 2020, 2023, 2026}),
        (Deck(id="d", attached=True, from_inside=False), {2020, 2023, 2026}),
        (Deck(id="d", attached=False, from_inside=True, gap_in=F(4)), {2020, 2023, 2026}),
        (Deck(id="d", attached=False, from_inside=True, gap_in=4 - SIXTEENTH), {2020, 2023, 2026}),
        (Deck(id="d", attached=False, from_inside=True, gap_in=4 + SIXTEENTH), set()),
    ],
)
def test_a_deck_needs_one_where_the_edition_reaches_it(deck: Deck, years: set[int]) -> None:
    """2017 against 2020: JADE Learning, 2020 NEC 210.52(E)(3)."""
    assert {year for year in YEARS if deck_receptacle(deck, [], load_edition(year)).required} == years


@pytest.mark.parametrize("height", [78, 78 - SIXTEENTH, 78 + SIXTEENTH])
def test_a_decks_receptacle_stands_at_most_six_and_a_half_feet_above_it(height: Fraction) -> None:
    deck = Deck(id="d", attached=True, from_inside=True)
    there = OutdoorReceptacle(id="r", deck="d", above_deck_in=F(height))

    assert deck_receptacle(deck, [there], load_edition(2023)).complies is (height <= 78)


@every_year
def test_a_deck_of_unknown_place_is_unseen(year: int) -> None:
    assert deck_receptacle(Deck(id="d"), [], load_edition(year)).complies is None


# --- Laundry, garage, basement, accessory building -----------------------------------------------------


@every_year
def test_a_laundry_area_needs_one_unless_the_building_has_laundry_for_all(year: int) -> None:
    """The exception: Examzify, IEC year 4, multifamily laundry."""
    code = load_edition(year)

    assert laundry_receptacle("laundry", [], code).complies is False
    assert laundry_receptacle("laundry", [plain()], code).complies is True
    shared = laundry_receptacle("laundry", [], code, dwelling="multifamily", shared_laundry=True)
    unknown = laundry_receptacle("laundry", [], code, dwelling="multifamily", shared_laundry=None)
    house = laundry_receptacle("laundry", [], code, dwelling="one-family", shared_laundry=True)
    assert [shared.complies, unknown.complies, house.complies] == [True, None, False]


def in_bay(place: str, **more: object) -> GarageReceptacle:
    facts = {key: more.pop(key) for key in ("height_in",) if key in more}
    return GarageReceptacle(plain(f"r-{place}", **facts), place, **more)  # type: ignore[arg-type]


@every_year
@pytest.mark.parametrize("bays", [1, 3, 4])
def test_published_a_garage_needs_one_in_each_bay(year: int, bays: int) -> None:
    """Leviton Captain Code 2017: three for a three-car garage, four for a four-car garage."""
    names = [f"bay {number}" for number in range(bays)]

    found = garage_and_basement_receptacles("garage", names, [], load_edition(year))

    assert sum(each.short_by for each in found) == bays


def test_two_receptacles_in_one_bay_do_not_serve_the_next() -> None:
    there = [in_bay("left"), in_bay("left", height_in=F(40))]
    there[1] = GarageReceptacle(plain("second"), "left")

    left, right = garage_and_basement_receptacles("garage", ["left", "right"], there, load_edition(2023))

    assert (len(left.counted), right.complies) == (2, False)


@every_year
@pytest.mark.parametrize("height", [66, 66 - SIXTEENTH, 66 + SIXTEENTH])
def test_a_bays_receptacle_stands_at_most_five_and_a_half_feet_up(year: int, height: Fraction) -> None:
    (found,) = garage_and_basement_receptacles(
        "garage", ["bay"], [in_bay("bay", height_in=F(height))], load_edition(year)
    )

    assert found.complies is (height <= 66)


def test_an_openers_receptacle_does_not_count() -> None:
    (found,) = garage_and_basement_receptacles(
        "garage", ["bay"], [in_bay("bay", for_equipment=True)], load_edition(2023)
    )

    assert found.complies is False


@pytest.mark.parametrize(("year", "counts"), [(2017, True), (2020, True), (2023, False), (2026, False)])
def test_published_a_security_panels_receptacle_never_counts_from_2023(year: int, counts: bool) -> None:
    """ExpertCE: how many receptacles in garages, basements and accessory buildings, 2023."""
    (found,) = garage_and_basement_receptacles(
        "basement", ["unfinished"], [in_bay("unfinished", security=True)], load_edition(year)
    )

    assert found.complies is counts


def test_a_detached_garage_or_accessory_building_is_reached_where_it_has_power() -> None:
    code = load_edition(2023)

    def required(power: bool | None) -> list[bool | None]:
        garage = garage_and_basement_receptacles("garage", ["bay"], [], code, attached=False, has_power=power)
        shed = garage_and_basement_receptacles("accessory building", ["shed"], [], code, has_power=power)
        return [each.complies for each in (*garage, *shed)]

    assert required(True) == [False, False]
    assert required(False) == [True, True]
    assert required(None) == [None, None]
    (attached,) = garage_and_basement_receptacles("garage", ["bay"], [], code, attached=True, has_power=False)
    assert attached.complies is False


@pytest.mark.parametrize(("year", "required"), [(2017, 0), (2020, 1), (2023, 1), (2026, 1)])
def test_multifamily_garages_are_reached_from_2020(year: int, required: int) -> None:
    (found,) = garage_and_basement_receptacles(
        "garage", ["bay"], [], load_edition(year), dwelling="multifamily"
    )

    assert found.required == required


# --- Appliances and equipment --------------------------------------------------------------------------


@every_year
@pytest.mark.parametrize("away", [72, 72 - SIXTEENTH, 72 + SIXTEENTH])
def test_an_appliances_receptacle_stands_within_six_feet_of_it(year: int, away: Fraction) -> None:
    assert appliance_receptacle("washer", {"r": F(away)}, load_edition(year)).complies is (away <= 72)


def near(away: object, **more: object) -> EquipmentReceptacle:
    given = {"same_level": True, **more}
    return EquipmentReceptacle(plain(), None if away is None else F(away), **given)  # type: ignore[arg-type]


@every_year
@pytest.mark.parametrize("away", [300, 300 - SIXTEENTH, 300 + SIXTEENTH])
def test_equipment_has_a_receptacle_within_25_feet(year: int, away: Fraction) -> None:
    unit = Equipment("condenser", "air conditioner")

    assert equipment_receptacle(unit, [near(away)], load_edition(year)).complies is (away <= 300)


def test_it_is_on_the_same_level_and_not_fed_through_the_disconnect() -> None:
    unit, code = Equipment("condenser", "air conditioner"), load_edition(2023)

    def complies(each: EquipmentReceptacle) -> bool | None:
        return equipment_receptacle(unit, [each], code).complies

    assert complies(near(100, same_level=False)) is False
    assert complies(near(100, load_side=True)) is False
    assert complies(near(100, same_level=None)) is None
    assert complies(near(None)) is None


@every_year
def test_published_an_evaporative_cooler_of_a_house_needs_none(year: int) -> None:
    """EC&M Code Q&A: maintenance receptacle, 210.63."""
    code = load_edition(year)

    assert equipment_receptacle(Equipment("c", "evaporative_cooler"), [], code).required == 0
    block = Equipment("c", "evaporative cooler", "multifamily")
    assert equipment_receptacle(block, [], code).required == 1


@pytest.mark.parametrize("kind", ["one-family", "two-family"])
@every_year
def test_published_service_equipment_of_houses_needs_none(year: int, kind: str) -> None:
    """Passetra: which dwellings are excused."""
    service = Equipment("service", "service", kind)  # type: ignore[arg-type]

    assert service_receptacle(service, [], load_edition(year)).required == 0


@pytest.mark.parametrize(("year", "required"), [(2017, 1), (2020, 1), (2023, 1), (2026, 0)])
def test_service_equipment_of_multifamily_dwellings_is_excused_from_2026(year: int, required: int) -> None:
    service = Equipment("service", "service", "multifamily")

    assert service_receptacle(service, [], load_edition(year)).required == required


def test_the_steps_name_subject_and_article() -> None:
    work = Work()

    hallway_receptacle(Hallway("upper hall", F(130)), load_edition(2023), work)

    assert work.steps[0].text.startswith("upper hall: 10 ft 10 in long")
    assert work.cites == ("210.52(H)",)
