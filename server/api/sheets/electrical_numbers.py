"""Numbers at the border with their limits, as validation and as JSON schema say them alike.

The limits are those of good sense (a typing slip), not of the code.
"""

from __future__ import annotations

from typing import Annotated, TypeAlias

from pydantic import Field, WithJsonSchema

from server.api.sheets.base import ExactNumber

__all__ = [
    "Amperes",
    "Celsius",
    "CubicInches",
    "Fahrenheit",
    "Feet",
    "KOfMetal",
    "Percent",
    "PowerFactor",
    "SomeAmperes",
    "VoltAmperes",
    "Volts",
]

Amperes: TypeAlias = Annotated[
    ExactNumber,
    Field(ge=0, le=100_000),
    WithJsonSchema({"type": "number", "minimum": 0, "maximum": 100_000}),
]
SomeAmperes: TypeAlias = Annotated[
    ExactNumber,
    Field(gt=0, le=10_000),
    WithJsonSchema({"type": "number", "exclusiveMinimum": 0, "maximum": 10_000}),
]
VoltAmperes: TypeAlias = Annotated[
    ExactNumber,
    Field(ge=0, le=10_000_000),
    WithJsonSchema({"type": "number", "minimum": 0, "maximum": 10_000_000}),
]
Volts: TypeAlias = Annotated[
    ExactNumber,
    Field(gt=0, le=1000),
    WithJsonSchema({"type": "number", "exclusiveMinimum": 0, "maximum": 1000}),
]
Feet: TypeAlias = Annotated[
    ExactNumber,
    Field(gt=0, le=100_000),
    WithJsonSchema({"type": "number", "exclusiveMinimum": 0, "maximum": 100_000}),
]
Percent: TypeAlias = Annotated[
    ExactNumber,
    Field(gt=0, le=100),
    WithJsonSchema({"type": "number", "exclusiveMinimum": 0, "maximum": 100}),
]
PowerFactor: TypeAlias = Annotated[
    ExactNumber,
    Field(gt=0, le=1),
    WithJsonSchema({"type": "number", "exclusiveMinimum": 0, "maximum": 1}),
]
KOfMetal: TypeAlias = Annotated[
    ExactNumber,
    Field(gt=0, le=100),
    WithJsonSchema({"type": "number", "exclusiveMinimum": 0, "maximum": 100}),
]
Fahrenheit: TypeAlias = Annotated[
    ExactNumber,
    Field(ge=-100, le=400),
    WithJsonSchema({"type": "number", "minimum": -100, "maximum": 400}),
]
Celsius: TypeAlias = Annotated[
    ExactNumber,
    Field(ge=-75, le=200),
    WithJsonSchema({"type": "number", "minimum": -75, "maximum": 200}),
]
CubicInches: TypeAlias = Annotated[
    ExactNumber,
    Field(gt=0, le=10_000),
    WithJsonSchema({"type": "number", "exclusiveMinimum": 0, "maximum": 10_000}),
]
