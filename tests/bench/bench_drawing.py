"""The page of a room with its drawings against the same page without (aim at most 1.5); bytes of a room's drawings.

python -m tests.bench.bench_drawing
"""

from __future__ import annotations

import gzip
import tempfile
from pathlib import Path
from unittest.mock import patch

from markupsafe import Markup

from seed_demo.house import demo_house
from server.editions import load_edition
from server.pages.room_drawings import drawn_plan, drawn_walls
from server.readiness.room_spacing import RoomSpacing, spacing_of
from server.store.base import Base
from server.store.engine import make_engine
from tests.bench.ratio import compare, median_of, told
from tests.cast import CREW, client_for, make_app, make_cast
from tests.pages.houses import put_house

ROUNDS = 40
AIM_RATIO, AIM_BYTES = 1.5, 12 * 1024


def main() -> None:
    """Measure and print."""
    builder = demo_house().builder
    house, code = builder.dwelling(), load_edition(2023)
    largest = 0
    for room in house.facts.rooms:
        walls = drawn_walls("j", room, house, code, spacing=spacing_of(room, house, code), may_build=True)
        text = "".join(wall.svg for wall in walls) + drawn_plan("j", room, house, may_build=True)
        largest = max(largest, len(gzip.compress(text.encode(), 6)))
    everything = median_of(lambda: [spacing_of(room, house, code) for room in house.facts.rooms])
    with tempfile.TemporaryDirectory() as folder:
        engine = make_engine(f"sqlite:///{Path(folder) / 'bench.sqlite3'}")
        Base.metadata.create_all(engine)
        cast = make_cast(engine)
        put_house(engine, CREW, builder)
        client = client_for(make_app(engine), cast.token("ana"))
        kitchen = next(room for room in house.facts.rooms if room.name == "Kitchen")
        path = f"/jobs/job-1/rooms/{kitchen.id}"
        assert client.get(path).text.count('class="drawing"') == 5

        def bare() -> None:
            with (
                patch("server.pages.one_room.drawn_walls", return_value=()),
                patch("server.pages.one_room.drawn_plan", return_value=Markup()),
                patch("server.pages.one_room.spacing_of", return_value=RoomSpacing()),
            ):
                client.get(path)

        ours, theirs = compare(lambda: client.get(path), bare, ROUNDS)
        engine.dispose()
    told("page of a room with its drawings, against the same page without", ours, theirs, AIM_RATIO)
    print(f"drawings of a room: {largest:,} bytes compressed at most (aim {AIM_BYTES:,})")
    print(f"spacing of the whole house with its cures: {everything * 1000:.1f} ms")


if __name__ == "__main__":
    main()
