"""Who deletes their account is forgotten; what they knitted stays counted."""

from django.test import Client
from django.utils import translation

from accounts import actions
from accounts.models import Event, Invitation, Member, Role, User
from drives.actions.circles import calendar
from drives.actions.circles.feeds import make_feed
from drives.audit import audit
from drives.models import Absence, Feed
from drives.pages.common.log.line import log_lines
from tests.accounts.test_members import ONLY_OLGA
from tests.accounts.test_pages import told
from tests.cast import DAY, NOW, PASSWORD, Cast
from tests.desk import Desk, refused
from tests.postman import outbox
from tests.test_access_matrix import just_asked


def delete(member: Member) -> None:
    assert member.user
    actions.delete_person(user=member.user, now=NOW + DAY)


def test_nothing_is_left_of_who_deletes_their_account(cast: Cast, desk: Desk) -> None:
    vera = cast.vera
    desk.knit("A1", vera)
    day = (NOW + 2 * DAY).date()
    calendar.add_absence(member=vera, first=day, last=day, by=vera, now=NOW)
    make_feed(member=vera, now=NOW)
    actions.invite_person(
        by=cast.olga, roles=[Role.VOLUNTEER], days=3, now=NOW, email="vera@example.org"
    )
    delete(vera)
    assert not User.objects.filter(email="vera@example.org").exists()
    assert not Invitation.objects.filter(email="vera@example.org").exists()
    assert not Absence.objects.filter(member=vera).exists()
    assert not Feed.objects.filter(member=vera).exists()
    stored = Member.objects.filter(pk=vera.pk).extra(select={"stored": "name"})
    assert stored.values_list("stored", "user", "note").get() == ("", None, "")
    assert not any("Vera" in str(event.facts) for event in Event.objects.all())
    assert not list(audit())


def test_what_they_knitted_stays_as_by_a_former_member(cast: Cast, desk: Desk) -> None:
    desk.knit("A1", cast.vera)
    desk.claim("B1", cast.vera, by=cast.cora)
    delete(cast.vera)
    square = desk.square("A1")
    assert square.knitter
    assert square.knitter.name == "a former member"
    lines = [line.words for line in log_lines(Event.objects.select_related("by", "circle"))]
    assert "a former member finished A1." in " ".join(lines)
    assert any(line.startswith("Cora gave B1 to a former member") for line in lines)
    with translation.override("en-us"):
        assert Member.objects.values_list("name", flat=True).get(pk=cast.vera.pk)


def test_a_circle_is_not_left_without_an_organiser(cast: Cast) -> None:
    with refused("last-organiser", ONLY_OLGA):
        delete(cast.olga)
    assert User.objects.filter(email="olga@example.org").exists()
    actions.change_roles(member=cast.cora, by=cast.olga, roles=[Role.ORGANISER], now=NOW)
    cast.olga.refresh_from_db()
    delete(cast.olga)
    assert not User.objects.filter(email="olga@example.org").exists()


def test_a_stolen_session_deletes_nothing(cast: Cast, client: Client) -> None:
    assert cast.vera.user
    client.force_login(cast.vera.user)
    asked = client.post("/me/delete/")
    assert asked.headers["Location"].startswith("/account/reauthenticate/")
    assert User.objects.filter(email="vera@example.org").exists()
    client.post(asked.headers["Location"], {"password": PASSWORD})
    assert not User.objects.filter(email="vera@example.org").exists()
    assert client.get("/me/").status_code == 302
    assert outbox()[-1].subject == "Your account has been deleted"
    assert outbox()[-1].to == ["vera@example.org"]


def test_who_organises_alone_is_told_what_to_do(cast: Cast, client: Client) -> None:
    assert cast.olga.user
    client.force_login(cast.olga.user)
    just_asked(client)
    assert "This cannot be undone" in told(client.get("/me/delete/"))
    answer = client.post("/me/delete/")
    assert answer.status_code == 409
    assert "or close the circle" in told(answer)
