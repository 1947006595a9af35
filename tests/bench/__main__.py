"""``make bench``: every bench beside this one, in one run."""

from __future__ import annotations

import importlib
import pkgutil

import tests.bench

for module in sorted(found.name for found in pkgutil.iter_modules(tests.bench.__path__)):
    if module.startswith("bench_"):
        print(f"\n{module.removeprefix('bench_').replace('_', ' ')}")
        importlib.import_module(f"tests.bench.{module}").main()
