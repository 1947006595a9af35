"""Token buckets: they empty, refill with time, are shared, and are not a stranger's way to lock somebody out."""

from __future__ import annotations

import threading
from datetime import UTC, datetime, timedelta

import pytest
from sqlalchemy import Engine, select

from server.people.throttle import Bucket, Limit, address_key, give_back, sweep, take
from server.store.engine import reading, writing
from server.store.tables.people import ThrottleRow

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)
BUCKET = Bucket("a bucket", Limit(3, 60))


def take_one(engine: Engine, now: datetime, *buckets: Bucket) -> int:
    with writing(engine) as session:
        return take(session, buckets or (BUCKET,), now)


def test_a_full_bucket_gives_as_many_as_it_has_and_then_says_how_long(engine: Engine) -> None:
    assert [take_one(engine, NOW) for _ in range(4)] == [0, 0, 0, 60]


@pytest.mark.parametrize(("later", "wait"), [(59, 1), (60, 0), (61, 0)])
def test_one_comes_back_after_its_time(engine: Engine, later: int, wait: int) -> None:
    for _ in range(3):
        take_one(engine, NOW)

    assert take_one(engine, NOW + timedelta(seconds=later)) == wait


def test_it_never_holds_more_than_its_size(engine: Engine) -> None:
    take_one(engine, NOW)
    much_later = NOW + timedelta(days=9)

    assert [take_one(engine, much_later) for _ in range(4)] == [0, 0, 0, 60]


def test_an_empty_bucket_keeps_the_others_full(engine: Engine) -> None:
    other = Bucket("another", Limit(1, 60))
    for _ in range(3):
        take_one(engine, NOW)

    assert take_one(engine, NOW, BUCKET, other) == 60
    assert take_one(engine, NOW, other) == 0


def test_a_clock_that_goes_back_gives_nothing(engine: Engine) -> None:
    for _ in range(3):
        take_one(engine, NOW)

    assert take_one(engine, NOW - timedelta(hours=1)) == 60


def test_giving_back_fills_it(engine: Engine) -> None:
    for _ in range(3):
        take_one(engine, NOW)
    with writing(engine) as session:
        give_back(session, [BUCKET])

    assert take_one(engine, NOW) == 0


def test_sweeping_forgets_only_what_is_full_again(engine: Engine) -> None:
    take_one(engine, NOW - timedelta(days=2), Bucket("old", Limit(3, 60)))
    take_one(engine, NOW)
    with writing(engine) as session:
        sweep(session, NOW)

    with reading(engine) as session:
        assert session.scalars(select(ThrottleRow.bucket)).all() == ["a bucket"]


def test_takers_at_once_get_no_more_than_there_is(engine: Engine) -> None:
    bucket = Bucket("wanted", Limit(5, 3600))
    answers: list[int] = []

    def taker() -> None:
        for _ in range(4):
            answers.append(take_one(engine, NOW, bucket))

    threads = [threading.Thread(target=taker) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert len(answers) == 16
    assert answers.count(0) == 5


@pytest.mark.parametrize(
    ("host", "key"),
    [
        ("203.0.113.9", "203.0.113.9"),
        ("::ffff:203.0.113.9", "203.0.113.9"),
        ("2001:db8:1:2:3:4:5:6", "2001:db8:1:2::/64"),
        ("2001:db8:1:2:ffff::1", "2001:db8:1:2::/64"),
        (None, "unknown"),
        ("testclient", "unknown"),
    ],
)
def test_an_address_is_a_household(host: str | None, key: str) -> None:
    assert address_key(host) == key
