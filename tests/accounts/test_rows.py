"""What the database itself never lets be false."""

from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest
from django.db import IntegrityError

from accounts import actions
from accounts.models import Circle, Event, IdempotentCall, Invitation, Member, Role, User
from tests.cast import DAY, NOW, Cast, open_link

Breach = Callable[[Cast], Any]


def _members(**row: Any) -> Breach:
    return lambda cast: Member.objects.create(circle=cast.circle, name="X", joined_at=NOW, **row)


def _vera(**change: Any) -> Breach:
    return lambda cast: Member.objects.filter(pk=cast.vera.pk).update(**change)


def _circle(**change: Any) -> Breach:
    return lambda cast: Circle.objects.filter(pk=cast.circle.pk).update(**change)


def _link(**change: Any) -> Breach:
    def breach(cast: Cast) -> None:
        link = open_link(cast.olga, Role.VOLUNTEER)
        Invitation.objects.filter(pk=link.pk).update(**change)

    return breach


def _same_call_twice(cast: Cast) -> None:
    for fingerprint in "ab":
        IdempotentCall.objects.create(
            user=cast.stan, key="k", fingerprint=fingerprint, created_at=NOW
        )


BREACHES: dict[str, list[Breach]] = {
    "email_in_lower_case": [lambda cast: User.objects.create(email="Olga2@example.org")],
    "circle_units_known": [_circle(units="ft")],
    "circle_english_known": [_circle(english="scots")],
    "member_hand_known": [_vera(hand="both")],
    "member_has_a_role_until_they_leave": [
        _vera(is_volunteer=False),
        _vera(left_at=NOW),
        _members(),
    ],
    "paper_member_only_knits": [
        _members(is_organiser=True),
        _members(is_coordinator=True, is_volunteer=True),
    ],
    "invitation_gives_a_role": [_link(is_volunteer=False)],
    "invitation_expires_after_it_is_made": [_link(expires_at=NOW)],
    "only_personal_invitations_are_used_up": [_link(accepted_at=NOW)],
    "invitation_taken_before_it_is_mailed": [
        _link(mailed_at=NOW),
        _link(mailed_at=NOW, mail_taken_at=NOW + DAY),
    ],
    "event_topic_known": [
        lambda cast: Event.objects.note(
            circle=cast.circle, by=None, verb="x", topic="yarn", topic_id=1, facts={}, at=NOW
        )
    ],
}

UNIQUE: dict[str, tuple[str, Breach]] = {
    "one_membership_per_user_and_circle": (
        "accounts_member.circle_id, accounts_member.user_id",
        lambda cast: _members(user=cast.vera.user, is_volunteer=True)(cast),
    ),
    "one_call_per_user_and_key": (
        "accounts_idempotentcall.user_id, accounts_idempotentcall.key",
        _same_call_twice,
    ),
    "accounts_user_email": (
        "accounts_user.email",
        lambda cast: User.objects.create(email="olga@example.org"),
    ),
}


@pytest.mark.parametrize(
    ("name", "breach"), [(name, breach) for name in BREACHES for breach in BREACHES[name]]
)
def test_a_row_that_breaks_a_rule_is_not_stored(cast: Cast, name: str, breach: Breach) -> None:
    with pytest.raises(IntegrityError, match=name):
        breach(cast)


@pytest.mark.parametrize("name", UNIQUE)
def test_a_second_row_of_one_kind_is_not_stored(cast: Cast, name: str) -> None:
    columns, breach = UNIQUE[name]
    # SQLite names the columns, PostgreSQL the constraint.
    with pytest.raises(IntegrityError, match=f"{name}|{columns}"):
        breach(cast)


def test_every_rule_of_these_rows_is_tried(db: None) -> None:
    models = (Circle, Member, Invitation, Event, IdempotentCall, User)
    rules = {rule.name for model in models for rule in model._meta.constraints}
    assert rules == (BREACHES.keys() | UNIQUE.keys()) - {"accounts_user_email"}


def test_two_paper_members_may_bear_the_same_name(cast: Cast) -> None:
    for _ in range(2):
        _members(is_volunteer=True)(cast)
    assert Member.objects.filter(user=None, name="X").count() == 2


def test_the_log_is_never_changed_nor_shortened(cast: Cast) -> None:
    tampering: list[Callable[[], object]] = [
        lambda: Event.objects.update(verb="x"),
        lambda: Event.objects.filter(circle=cast.circle).delete(),
        lambda: Event.objects.bulk_update(list(Event.objects.all()), ["verb"]),
    ]
    for tamper in tampering:
        with pytest.raises(TypeError, match="events are never"):
            tamper()


def test_the_log_of_a_circle_reads_newest_first(cast: Cast) -> None:
    actions.invite_person(by=cast.olga, roles=[Role.VOLUNTEER], days=1, now=NOW)
    newest, *_, oldest = Event.objects.about("circle", cast.circle.pk)
    assert (newest.verb, oldest.verb) == ("invited", "circle-made")


def test_an_address_in_any_case_finds_its_user(cast: Cast) -> None:
    assert User.objects.get_by_natural_key(" Olga@Example.ORG ") == cast.olga.user


def test_an_invitation_is_open_from_when_it_is_made_until_it_expires(cast: Cast) -> None:
    link = open_link(cast.olga, Role.VOLUNTEER, days=1)
    moments = {0: 1, 86_399: 1, 86_400: 0}
    for seconds, count in moments.items():
        at = NOW + timedelta(seconds=seconds)
        assert Invitation.objects.open(at).filter(pk=link.pk).count() == count
