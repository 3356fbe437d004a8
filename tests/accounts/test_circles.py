"""Making a circle and changing its settings."""

from accounts import actions
from accounts.models import Event, Role
from tests.cast import DAY, NOW, Cast, login
from tests.desk import nothing_changes


def test_the_maker_of_a_circle_organises_it_and_knits(db: None) -> None:
    nora = actions.make_circle(
        user=login("Nora"),
        name="Tide Mill",
        units="in",
        english="american",
        time_zone="America/Halifax",
        hand="left",
        now=NOW,
    )
    assert nora.roles == {Role.ORGANISER, Role.VOLUNTEER}
    assert (nora.name, nora.hand, nora.joined_at) == ("Nora", "left", NOW)
    circle = nora.circle
    assert (circle.name, circle.units, circle.english) == ("Tide Mill", "in", "american")
    assert circle.time_zone == "America/Halifax"
    event = Event.objects.get()
    assert (event.circle, event.by, event.verb, event.at) == (circle, nora, "circle-made", NOW)
    assert (event.topic, event.topic_id, event.facts) == (
        "circle",
        circle.pk,
        {"name": "Tide Mill"},
    )


def test_a_change_of_settings_tells_the_old_and_the_new(cast: Cast) -> None:
    changed = actions.change_circle(
        circle=cast.circle,
        by=cast.olga,
        name="Harbour Lane",
        units="in",
        english="american",
        time_zone="Europe/London",
        now=NOW + DAY,
    )
    changed.refresh_from_db()
    assert (changed.units, changed.english) == ("in", "american")
    event = Event.objects.latest("pk")
    assert event.verb == "circle-changed"
    assert event.facts == {"units": ["cm", "in"], "english": ["british", "american"]}


def test_the_same_settings_again_change_nothing(cast: Cast) -> None:
    with nothing_changes():
        actions.change_circle(
            circle=cast.circle,
            by=cast.olga,
            name="Harbour Lane",
            units="cm",
            english="british",
            time_zone="Europe/London",
            now=NOW + DAY,
        )
