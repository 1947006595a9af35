"""``POST /api/sheets/NAME`` for every registered sheet, each with its own models in the OpenAPI document."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from fastapi import APIRouter

from server.api.sheets import SHEETS, answer
from server.api.sheets.base import Sheet, SheetAnswer

__all__ = ["router"]

router = APIRouter(prefix="/api/sheets", tags=["sheets"])


def _endpoint(sheet: Sheet) -> Callable[[Any], Any]:
    def reckon(request: Any) -> Any:
        return answer(sheet.name, request)

    reckon.__name__ = f"sheet_{sheet.name.replace('-', '_')}"
    reckon.__doc__ = sheet.reckon.__doc__
    reckon.__annotations__ = {"request": sheet.asks}
    return reckon


for _sheet in SHEETS.values():
    router.add_api_route(
        f"/{_sheet.name}",
        _endpoint(_sheet),
        methods=["POST"],
        summary=_sheet.title,
        response_model=SheetAnswer[_sheet.gives],  # type: ignore[name-defined]
    )
