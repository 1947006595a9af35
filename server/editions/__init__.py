"""The code's numbers as dated data, each with its source.

``load_edition(2023)`` gives an :class:`Edition`; rules and reckonings read it by name::

    code = load_edition(2023)
    code.number("sheath.reach_in")  # Fraction(1, 4)
    code.cites("sheath.reach_in")  # "314.17(B)(1)"
    code.amended((layer, ...))  # the same edition under local amendments

The grammar of the TOML files stands in ``loader.py``.
"""

from server.editions.edition import (
    ABSENCES,
    YEARS,
    Absent,
    Amendment,
    AmendmentConflict,
    Change,
    Edition,
    EditionError,
    EditionValue,
    Entry,
    Node,
    UnknownNode,
)
from server.editions.loader import default_year, load_edition, load_presets, parse_amendment, parse_file

__all__ = [
    "ABSENCES",
    "YEARS",
    "Absent",
    "Amendment",
    "AmendmentConflict",
    "Change",
    "Edition",
    "EditionError",
    "EditionValue",
    "Entry",
    "Node",
    "UnknownNode",
    "default_year",
    "load_edition",
    "load_presets",
    "parse_amendment",
    "parse_file",
]
