"""One write at a time on SQLite, one transaction for each write everywhere."""

import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from datetime import timedelta
from typing import Any

import pytest
from django.contrib.sessions.models import Session
from django.db import connection, transaction
from django.utils import timezone

from shared.basics.transactions import writing

pytestmark = pytest.mark.django_db(transaction=True)


class ChangedMind(Exception):
    """Somebody changed their mind half way."""


def in_thread(work: Callable[[], Any]) -> Callable[[], Any]:
    """``work`` with the thread's own database connection closed after it."""

    def done() -> Any:
        try:
            return work()
        finally:
            connection.close()

    return done


def row(key: str, data: str) -> Session:
    later = timezone.now() + timedelta(days=1)
    return Session.objects.create(session_key=key, session_data=data, expire_date=later)


@pytest.fixture(params=["sqlite", pytest.param("postgresql", marks=pytest.mark.postgres)])
def database(request: pytest.FixtureRequest) -> None:
    """Both databases, each in its pass."""
    if connection.vendor != request.param:
        pytest.skip("the other pass runs this")


def test_reading_and_then_writing_loses_nothing_among_threads(database: None) -> None:
    row("count", "0")

    def add_one() -> None:
        for _ in range(10):
            with writing():
                counter = Session.objects.select_for_update().get(pk="count")
                counter.session_data = str(int(counter.session_data) + 1)
                counter.save(update_fields=["session_data"])

    with ThreadPoolExecutor(8) as pool:
        for done in [pool.submit(in_thread(add_one)) for _ in range(8)]:
            done.result()

    assert Session.objects.get(pk="count").session_data == "80"


def test_a_second_writer_waits_for_the_first_to_commit() -> None:
    if connection.vendor != "sqlite":
        pytest.skip("PostgreSQL lets others write")
    entered = threading.Event()

    def write() -> list[str]:
        with writing():
            entered.set()
            return [session.pk for session in Session.objects.all()]

    with ThreadPoolExecutor(1) as pool:
        with writing():
            second = pool.submit(in_thread(write))
            assert not entered.wait(0.3)
            row("first", "")
        assert second.result() == ["first"]


def test_a_failure_undoes_everything_and_lets_the_next_one_in(database: None) -> None:
    with suppress(ChangedMind), writing():
        row("undone", "")
        raise ChangedMind
    with writing():
        row("done", "")

    assert list(Session.objects.values_list("pk", flat=True)) == ["done"]


def test_a_failure_inside_undoes_only_the_inner_part(database: None) -> None:
    with writing():
        row("outer", "")
        with suppress(ChangedMind), writing():
            row("inner", "")
            raise ChangedMind

    assert list(Session.objects.values_list("pk", flat=True)) == ["outer"]


def test_what_runs_on_commit_may_write(database: None) -> None:
    def write_more() -> None:
        with writing():
            row("follow-up", "")

    with writing():
        transaction.on_commit(write_more)

    assert Session.objects.filter(pk="follow-up").exists()
