"""Cases for exhaust fans at the final visit."""

from __future__ import annotations

from server.dwelling import DeviceKind
from tests.cases.whole_jobs import device_on, looks

CASES = looks(
    device_on(DeviceKind.EXHAUST_FAN),
    "bath-fan-runs",
    "bath-fan-in-shower",
    outside={"a ceiling fan": device_on(DeviceKind.FAN)},
)
