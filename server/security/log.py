"""The log: one line an event, as text for people or as JSON for machines; line breaks in what users sent are encoded."""

from __future__ import annotations

import json
import logging
import sys
from datetime import UTC, datetime
from typing import Final

__all__ = ["JsonLines", "TextLines", "configure"]

_EXTRAS: Final = ("request_id", "ms", "person")


class JsonLines(logging.Formatter):
    """One JSON object a line."""

    def format(self, record: logging.LogRecord) -> str:
        line: dict[str, object] = {
            "at": datetime.fromtimestamp(record.created, UTC).isoformat(timespec="milliseconds"),
            "level": record.levelname.lower(),
            "from": record.name,
            "says": record.getMessage(),
        }
        line |= {name: getattr(record, name) for name in _EXTRAS if hasattr(record, name)}
        if record.exc_info:
            line["trace"] = self.formatException(record.exc_info)
        return json.dumps(line, ensure_ascii=False)


class TextLines(logging.Formatter):
    """``08:12:01 info studbay.request GET /jobs 200 (12.3 ms, 9f... ab-12...)``."""

    def format(self, record: logging.LogRecord) -> str:
        at = datetime.fromtimestamp(record.created, UTC).strftime("%H:%M:%S")
        says = record.getMessage().replace("\r", "\\r").replace("\n", "\\n")
        line = f"{at} {record.levelname.lower()} {record.name} {says}"
        if hasattr(record, "ms"):
            who = getattr(record, "person", "")
            line += f" ({record.ms} ms, {getattr(record, 'request_id', '')}{who and ' ' + who})"
        return line + ("\n" + self.formatException(record.exc_info) if record.exc_info else "")


def configure(log_format: str) -> None:
    """Send everything from level info on to standard error."""
    handler = logging.StreamHandler(sys.stderr)
    handler.setFormatter(JsonLines() if log_format == "json" else TextLines())
    root = logging.getLogger()
    root.handlers[:] = [handler]
    root.setLevel(logging.INFO)
    # chatty libraries speak only of trouble
    for name in ("fontTools", "weasyprint", "alembic", "uvicorn.access"):
        logging.getLogger(name).setLevel(logging.WARNING)
