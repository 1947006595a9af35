"""Voltages as the rules on protection compare them: by class, and to ground.

A 120 V circuit feeds a 125 V receptacle, a 240 V or 208 V one a 250 V receptacle: both names mean one class. The
classes and what each has to ground stand in ``protection.volts_to_ground``.
"""

from __future__ import annotations

from fractions import Fraction

from server.editions import Edition
from server.reckon.protection.facts import OutletFacts

__all__ = ["circuit_amps", "circuit_class", "receptacle_amps", "receptacle_class", "to_ground", "volt_class"]

_CLASSES = "protection.volts_to_ground"


def volt_class(volts: Fraction | int, code: Edition) -> Fraction:
    """The class that a nominal voltage or rating belongs to; above the largest, the voltage itself."""
    for top in sorted(map(int, code.table(_CLASSES))):
        if volts <= top:
            return Fraction(top)
    return Fraction(volts)


def receptacle_class(outlet: OutletFacts, code: Edition) -> Fraction | None:
    """The class of the receptacle's (or equipment's) rating; the circuit's where no rating is known."""
    volts = outlet.volts if outlet.volts is not None else outlet.circuit_volts
    return None if volts is None else volt_class(volts, code)


def circuit_class(outlet: OutletFacts, code: Edition) -> Fraction | None:
    """The class of the circuit's voltage; the outlet's rating where the circuit is unknown."""
    volts = outlet.circuit_volts if outlet.circuit_volts is not None else outlet.volts
    return None if volts is None else volt_class(volts, code)


def receptacle_amps(outlet: OutletFacts) -> Fraction | None:
    """The receptacle's or equipment's rating; the circuit's where none is known."""
    amps = outlet.amps if outlet.amps is not None else outlet.circuit_amps
    return None if amps is None else Fraction(amps)


def circuit_amps(outlet: OutletFacts) -> Fraction | None:
    """The circuit's rating; the receptacle's or equipment's where the circuit is unknown."""
    amps = outlet.circuit_amps if outlet.circuit_amps is not None else outlet.amps
    return None if amps is None else Fraction(amps)


def to_ground(outlet: OutletFacts, code: Edition) -> Fraction | None:
    """Volts to ground: as given, else from the class of the circuit's voltage."""
    if outlet.volts_to_ground is not None:
        return Fraction(outlet.volts_to_ground)
    found = circuit_class(outlet, code)
    if found is None:
        return None
    value = code.table(_CLASSES).get(str(found))
    return Fraction(value) if isinstance(value, Fraction | int) else found
