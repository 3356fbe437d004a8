"""Events of earlier days named people; now they hold ids, and read as they did."""

from importlib import import_module
from typing import Any

from django.db import connection
from django.db.migrations.loader import MigrationLoader
from django.db.models import Q, QuerySet

from accounts import actions
from accounts.log import NAMES, by_id
from accounts.models import Event, Member
from drives.pages.common.log.line import log_lines
from tests.cast import NOW as CAME_IN
from tests.cast import Cast
from tests.desk import DAY, NOW, Desk
from tests.matrix.world import make_world

people_by_id = import_module("drives.migrations.0009_people_by_id").people_by_id


def as_of_old() -> None:
    """Every event names people as it once did."""
    named = dict(Member.objects.values_list("pk", "name"))
    for event in Event.objects.all():
        facts: dict[str, Any] = dict(event.facts)
        if event.topic == "circle" and not event.verb.startswith(("yarn", "absence")):
            if by_id(event, "member"):
                facts["name"] = named[facts["member"]]
        else:
            facts |= {
                fact: named[facts[fact]] if facts[fact] else ""
                for fact in NAMES
                if fact in facts and not isinstance(facts[fact], list)
            }
        QuerySet(Event).filter(pk=event.pk).update(facts=facts)


def migrate() -> None:
    loader = MigrationLoader(connection)
    apps = loader.project_state([("drives", "0009_people_by_id")]).apps
    for _again in range(2):
        people_by_id(apps, connection.schema_editor())


def all_facts() -> list[dict[str, Any]]:
    return [event.facts for event in Event.objects.order_by("pk")]


def lines() -> list[str]:
    return [line.words for line in log_lines(Event.objects.select_related("by", "circle"))]


def test_names_become_ids_and_read_as_before(db: None) -> None:
    make_world()
    facts, told = all_facts(), lines()
    as_of_old()
    assert not Event.objects.exclude(topic="circle").filter(facts__member__in=[1, 2, 3, 4])
    assert lines() == told
    migrate()
    assert all_facts() == facts
    assert lines() == told


def test_of_two_with_one_name_the_rows_tell_whose_it_was(cast: Cast, desk: Desk) -> None:
    twin = actions.add_paper_member(by=cast.olga, name="Paul", reach="", hand="left", now=CAME_IN)
    desk.claim("A1", cast.paul, by=cast.cora)
    desk.finish("A1", cast.cora, at=NOW + DAY)
    desk.claim("B1", twin, by=cast.cora, at=NOW + DAY)
    facts = all_facts()
    as_of_old()
    migrate()
    assert all_facts() == facts
    assert [event.facts["member"] for event in desk.events()[-3:]] == [
        cast.paul.pk,
        cast.paul.pk,
        twin.pk,
    ]


def test_a_name_of_somebody_who_is_called_otherwise_now_is_found_by_the_rows(
    cast: Cast, desk: Desk
) -> None:
    desk.claim("A1", cast.olga)
    as_of_old()
    Member.objects.filter(pk=cast.olga.pk).update(name="Olga Maria")
    migrate()
    assert desk.events()[-1].facts["member"] == cast.olga.pk
    assert "Olga Maria took A1" in lines()[0]


def test_a_name_that_nobody_can_be_found_for_stays(cast: Cast) -> None:
    actions.change_circle(
        circle=cast.circle, by=cast.olga, name="New", units="cm", english="british",
        time_zone="UTC", now=NOW,
    )  # fmt: skip
    event = Event.objects.filter(~Q(by=None)).latest("pk")
    QuerySet(Event).filter(pk=event.pk).update(verb="absence-noted", facts={"member": "Nobody"})
    migrate()
    event.refresh_from_db()
    assert event.facts == {"member": "Nobody"}
