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
from tests.cast import DAY, NOW, PASSWORD, Cast, bring, enter, login
from tests.desk import Desk, nothing_changes, refused
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


def forget(member: Member, by: Member) -> Member:
    return actions.forget_member(member=member, by=by, now=NOW + DAY)


def test_an_organiser_has_somebody_on_paper_forgotten(cast: Cast, desk: Desk) -> None:
    paul = cast.paul
    desk.claim("A1", paul, by=cast.cora)
    desk.finish("A1", cast.cora)
    day = (NOW + 2 * DAY).date()
    calendar.add_absence(member=paul, first=day, last=day, by=cast.cora, now=NOW)
    actions.invite_person(
        by=cast.olga,
        member=paul,
        roles=[Role.VOLUNTEER],
        days=3,
        now=NOW + DAY,
        email="paul@example.org",
    )
    assert forget(paul, by=cast.olga).name == "a former member"
    stored = Member.objects.filter(pk=paul.pk, name="", note="").get()
    assert stored.left_at == NOW + DAY
    assert not Absence.objects.filter(member=paul).exists()
    assert not Invitation.objects.filter(member=paul).exists()
    assert desk.square("A1").knitter == paul
    lines = [line.words for line in log_lines(Event.objects.select_related("by", "circle"))]
    assert lines[0] == "Olga deleted the name of a former member."
    assert not any("Paul" in line for line in lines)
    assert not list(audit())
    with nothing_changes():
        forget(paul, by=cast.olga)


def test_who_has_left_can_be_forgotten_and_keeps_their_login(cast: Cast) -> None:
    vera = cast.vera
    with refused(
        "has-a-login",
        "Vera has a login: they can delete their account, or leave the circle first.",
    ):
        forget(vera, by=cast.olga)
    actions.remove_member(member=vera, by=cast.olga, now=NOW)
    assert forget(vera, by=cast.olga).user is None
    user = User.objects.get(email="vera@example.org")
    assert user.name == "Vera"
    back = bring(cast.olga, user, Role.VOLUNTEER, now=NOW + 2 * DAY)
    assert back.pk != vera.pk
    assert not list(audit())


def test_a_name_that_an_old_log_wrote_out_is_forgotten_too(cast: Cast) -> None:
    """Two had the same name, so that nobody could tell whose it was."""
    other = actions.add_paper_member(by=cast.olga, name="Paul", reach="", hand="left", now=NOW)
    named = bring(cast.olga, login("Paul"), Role.VOLUNTEER)

    def note(by: Member, facts: dict[str, str]) -> Event:
        return Event.objects.note(
            circle=cast.circle, by=by, verb="sent", topic="circle", topic_id=1, facts=facts, at=NOW
        )

    told, alone = note(cast.cora, {"to": "Paul", "piece": "P1"}), note(named, {"member": "Paul"})
    elsewhere = Event.objects.filter(circle__name="Elsewhere").latest("pk")
    Event.objects.bulk_create(
        [Event(circle=elsewhere.circle, verb="sent", topic="circle", topic_id=1, at=NOW,
               facts={"to": "Paul"})]
    )  # fmt: skip
    forget(cast.paul, by=cast.olga)
    facts = {event.pk: event.facts for event in Event.objects.filter(circle=cast.circle)}
    assert facts[told.pk] == {"to": cast.paul.pk, "piece": "P1"}
    assert facts[alone.pk] == {"member": named.pk}
    assert not any("Paul" in str(each) for each in facts.values())
    assert Event.objects.filter(circle=elsewhere.circle, facts__to="Paul").exists()
    other.refresh_from_db()
    assert other.name == "Paul"


def test_organisers_find_who_has_left_among_the_people(cast: Cast, client: Client) -> None:
    actions.remove_member(member=cast.vera, by=cast.olga, now=NOW)
    people = f"/circles/{cast.circle.pk}/people/"
    page = f"{people}{cast.vera.pk}/forget/"
    assert cast.cora.user
    assert cast.olga.user
    client.force_login(cast.cora.user)
    assert "Vera" not in told(client.get(people))
    client.force_login(cast.olga.user)
    assert "1 person who has left" in told(client.get(people))
    assert client.post(page).headers["Location"].startswith("/account/reauthenticate/")
    enter(client, cast.olga.user)
    asked = told(client.get(page))
    assert "The login of Vera stays" in asked
    assert "keep the name for up to 30 days" in asked
    client.post(page)
    after = told(client.get(people))
    assert "The name is deleted. What they knitted stays counted." in after
    assert "Vera" not in after
    assert client.get(page).status_code == 404


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
