"""The end of a circle."""

from datetime import timedelta

import pytest
from django.core.files.base import ContentFile
from django.test import Client
from django.utils import timezone

from accounts import actions
from accounts.belongings import of_circle
from accounts.models import Circle, Invitation, Member
from drives import tasks
from drives.models import Sheet
from tests.accounts.test_pages import sign_in, told
from tests.cast import DAY, NOW, Cast
from tests.desk import nothing_changes, refused
from tests.matrix.world import make_world
from tests.test_access_matrix import just_asked

pytestmark = pytest.mark.django_db


def close(cast: Cast) -> None:
    actions.close_circle(circle=cast.circle, by=cast.olga, now=NOW + DAY)


def test_nobody_is_in_a_closed_circle(cast: Cast, client: Client) -> None:
    close(cast)
    assert not cast.circle.members.present().exists()
    assert not Invitation.objects.open(NOW + DAY).filter(circle=cast.circle).exists()
    sign_in(client, cast.olga)
    assert client.get(f"/circles/{cast.circle.pk}/").status_code == 404
    with nothing_changes():
        close(cast)


def test_its_data_are_offered_first(cast: Cast, client: Client) -> None:
    sign_in(client, cast.olga)
    just_asked(client)
    address = f"/circles/{cast.circle.pk}/close/"
    assert "Take the circle’s data along" in told(client.get(address))
    assert client.post(address).status_code == 422
    client.post(address, {"taken": "on"})
    cast.circle.refresh_from_db()
    assert cast.circle.closed_at


def test_it_can_be_opened_again_until_it_is_removed(cast: Cast) -> None:
    with refused("circle-is-open", "The circle is not closed."):
        actions.reopen_circle(circle=cast.circle, organiser=cast.olga, now=NOW)
    close(cast)
    cast.olga.refresh_from_db()
    actions.reopen_circle(circle=cast.circle, organiser=cast.olga, now=NOW + 2 * DAY)
    assert list(cast.circle.members.present()) == [cast.olga]
    assert list(cast.circle.members.organisers()) == [cast.olga]


@pytest.mark.django_db(transaction=True)
def test_all_of_it_goes_after_its_time_and_nothing_else() -> None:
    world = make_world()
    cast, sheet = world.cast, world.sheet
    sheet.file.save("wall.pdf", ContentFile(b"%PDF"))
    storage, name = sheet.file.storage, sheet.file.name
    assert name
    tables = of_circle(cast.circle)
    actions.close_circle(circle=cast.circle, by=cast.olga, now=timezone.now() - timedelta(days=29))
    tasks.forget_the_past()
    assert Circle.objects.filter(pk=cast.circle.pk).exists()
    Circle.objects.update(closed_at=timezone.now() - timedelta(days=31))
    Circle.objects.filter(name="Elsewhere").update(closed_at=None)
    tasks.forget_the_past()
    left = {
        table: count
        for table, condition in tables.items()
        if (count := table._base_manager.filter(condition).count())
    }
    assert left == {}
    assert not Sheet.objects.exists()
    assert not storage.exists(name)
    assert list(Member.objects.values_list("circle__name", flat=True)) == ["Elsewhere"]
