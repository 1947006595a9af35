"""The loads of a dwelling as facts: what a worked example states before anybody reckons.

Everything is exact (``Fraction`` volt-amperes, square feet, volts). Kilowatts count as kilovolt-amperes, as the
examples have it (220.54, 220.55). In a building of several units the loads are those of **one** unit; an item that
not every unit has says how many the building has (``count``).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

__all__ = [
    "Appliance",
    "Charger",
    "CookingKind",
    "CookingUnit",
    "Dryer",
    "DwellingLoads",
    "Leg",
    "LoadError",
    "Method",
    "Motor",
    "Supply",
    "System",
]


class LoadError(ValueError):
    """Facts that no method can reckon; says what was expected and what came."""


class Method(StrEnum):
    STANDARD = "standard"
    OPTIONAL = "optional"
    EXISTING = "existing"


class System(StrEnum):
    """What brings the power: how volt-amperes become amperes."""

    SPLIT_PHASE = "120/240"
    WYE_THREE_WIRE = "208Y/120 3-wire"
    """Two lines and the neutral of a wye, as one apartment gets it."""
    WYE_FOUR_WIRE = "208Y/120 4-wire"
    """All three lines and the neutral, as the building gets it."""


class Supply(StrEnum):
    SERVICE = "service"
    FEEDER = "feeder"


class Leg(StrEnum):
    """Which line of a 120/240 V system a load stands on."""

    A = "A"
    B = "B"
    BOTH = "AB"


class CookingKind(StrEnum):
    RANGE = "range"
    OVEN = "oven"
    COOKTOP = "cooktop"


@dataclass(frozen=True, slots=True)
class Appliance:
    """An appliance that is fastened in place, permanently connected or on its own circuit.

    ``motor`` says that it is (mainly) a motor and may be the largest one; ``hp`` its size, where known.
    ``only_240`` keeps it off the neutral. ``count`` is the number in the building (one for each unit where None).
    """

    name: str
    va: Fraction
    motor: bool = False
    hp: Fraction | None = None
    only_240: bool = False
    fastened: bool = True
    count: int | None = None
    leg: Leg | None = None
    volts: Fraction | None = None
    circuit: str | None = None


@dataclass(frozen=True, slots=True)
class CookingUnit:
    """A household cooking appliance; ``circuit`` names the branch circuit that it shares."""

    kind: CookingKind
    va: Fraction
    name: str = ""
    circuit: str | None = None
    only_240: bool = False
    count: int | None = None


@dataclass(frozen=True, slots=True)
class Dryer:
    """An electric clothes dryer."""

    va: Fraction
    only_240: bool = False
    count: int | None = None


@dataclass(frozen=True, slots=True)
class Motor:
    """A motor that is no appliance: a pump, a fan, a room air conditioner. ``va`` is its full load."""

    name: str
    va: Fraction
    only_240: bool = False
    count: int | None = None
    leg: Leg | None = None
    volts: Fraction | None = None
    circuit: str | None = None


@dataclass(frozen=True, slots=True)
class Charger:
    """Electric vehicle supply equipment."""

    va: Fraction
    only_240: bool = True
    count: int | None = None


@dataclass(frozen=True, slots=True)
class DwellingLoads:
    """The loads of one dwelling, or of ``units`` equal ones on one service or feeder.

    ``small_appliance_circuits`` and ``laundry_circuits`` of None mean the least the code asks of a dwelling (none
    where no floor area is given: then only a part of a dwelling is reckoned). ``heat_va`` beside ``heat_pump_va``
    is the heat that supplements the pump; ``pump_locked_out`` says that both never run together.
    ``cool_motor_va`` is the compressor's own part of the cooling (or of the heat pump), which may be the largest
    motor. ``hvac_added`` says, for an existing dwelling, whether heat or cooling is added or made larger (None:
    it is where any is given). ``house_va`` are loads of the building outside its units, already with demand.
    """

    method: Method = Method.STANDARD
    floor_area_ft2: Fraction = Fraction(0)
    small_appliance_circuits: int | None = None
    laundry_circuits: int | None = None
    appliances: tuple[Appliance, ...] = ()
    dryers: tuple[Dryer, ...] = ()
    cooking: tuple[CookingUnit, ...] = ()
    heat_va: Fraction = Fraction(0)
    heat_units: int = 1
    heat_pump_va: Fraction = Fraction(0)
    pump_locked_out: bool = False
    heat_storage_va: Fraction = Fraction(0)
    cool_va: Fraction = Fraction(0)
    cool_motor_va: Fraction = Fraction(0)
    motors: tuple[Motor, ...] = ()
    chargers: tuple[Charger, ...] = ()
    hvac_added: bool | None = None
    house_va: Fraction = Fraction(0)
    units: int = 1
    system: System = System.SPLIT_PHASE
    volts: Fraction = Fraction(240)
    supply: Supply = Supply.SERVICE

    def __post_init__(self) -> None:
        if self.units < 1:
            raise LoadError(f"expected units of 1 or more, came {self.units}")
        if self.volts <= 0:
            raise LoadError(f"expected volts above 0, came {self.volts}")
        if self.method is Method.EXISTING and self.units != 1:
            raise LoadError(f"expected units of 1 with method 'existing', came {self.units}")
        if self.on_lines and self.units != 1:
            raise LoadError("expected no legs where units is more than 1: line currents are of one dwelling")
        if self.on_lines and self.system is not System.SPLIT_PHASE:
            raise LoadError(f"expected the system '120/240' with legs, came {self.system.value!r}")
        for item in self.on_lines:
            if item.leg is not Leg.BOTH and item.only_240:
                raise LoadError(
                    f"expected leg 'AB' for {item.name!r}, which uses 240 V only, came {item.leg!r}"
                )

    def number(self, item: Appliance | CookingUnit | Dryer | Motor | Charger) -> int:
        """How many of an item the whole building has."""
        return self.units if item.count is None else item.count

    @property
    def on_lines(self) -> tuple[Appliance | Motor, ...]:
        """The loads whose line is known: they are added line by line, not in volt-amperes."""
        every: tuple[Appliance | Motor, ...] = (*self.appliances, *self.motors)
        return tuple(item for item in every if item.leg is not None)

    @property
    def has_hvac(self) -> bool:
        """Whether any heat or cooling is given."""
        return bool(self.heat_va or self.heat_pump_va or self.cool_va or self.heat_storage_va)

    def each_cooking(self) -> Iterator[CookingUnit]:
        """Every cooking appliance of the building, one at a time."""
        for item in self.cooking:
            yield from [item] * self.number(item)
