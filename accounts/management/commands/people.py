"""``manage.py people``: looking after logins."""

from argparse import ArgumentParser
from collections.abc import Callable, Iterable
from typing import Any

from allauth.account.models import EmailAddress
from allauth.core.context import request_context
from django.conf import settings
from django.core.management.base import BaseCommand, CommandError
from django.db.models import Q
from django.http import HttpRequest
from django.utils import timezone

from accounts import actions
from accounts.models import Invitation, User
from shared.basics.refusals import Refused

FOUND_AT_MOST = 50


class Command(BaseCommand):
    help = "Find a person's login, disable it, enable it, delete it, or send mails again."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """One of five things to do, and with whom."""
        todo = parser.add_subparsers(dest="do", required=True)
        for name, (help_text, _do) in TODO.items():
            whom = "part of a name or an address" if name == "find" else "the e-mail address"
            todo.add_parser(name, help=help_text).add_argument("who", help=whom)

    def handle(self, *, do: str, who: str, **options: Any) -> None:
        """Says in a sentence or a line each what was done."""
        try:
            for line in TODO[do][1](who):
                self.stdout.write(line)
        except Refused as refused:
            raise CommandError(refused.detail) from None


def find(text: str) -> Iterable[str]:
    """A line for each login, with the circles."""
    wanted = Q(name__icontains=text) | Q(email__icontains=text)
    users = User.objects.filter(wanted).prefetch_related("memberships__circle")
    for user in users.order_by("email")[:FOUND_AT_MOST]:
        proven = EmailAddress.objects.filter(user=user, email=user.email, verified=True).exists()
        circles = [
            f"{member.circle} ({', '.join(sorted(member.roles)) or 'has left'})"
            for member in user.memberships.all()
        ]
        facts = [
            f"{user.pk}: {user.name} <{user.email}>",
            "proven" if proven else "not proven",
            "may sign in" if user.is_active else "disabled",
            f"last signed in {user.last_login:%Y-%m-%d}" if user.last_login else "never signed in",
            "; ".join(circles) or "in no circle",
        ]
        yield ", ".join(facts)
    if not users:
        yield "Nobody was found."


def disable(email: str) -> Iterable[str]:
    user = _login(email)
    actions.enable_person(user=user, enabled=False, now=timezone.now())
    yield f"{user.email} can no longer sign in. Their keys and calendar addresses no longer work."


def enable(email: str) -> Iterable[str]:
    user = _login(email)
    actions.enable_person(user=user, enabled=True, now=timezone.now())
    yield f"{user.email} can sign in."


def remove(email: str) -> Iterable[str]:
    user = _login(email)
    actions.delete_person(user=user, now=timezone.now())
    yield f"The account of {email} is deleted. What they knitted stays, without their name."


def resend(email: str) -> Iterable[str]:
    """What waits for an answer from this address: the proof that it is theirs, and invitations."""
    now, sent = timezone.now(), 0
    for address in EmailAddress.objects.filter(email__iexact=email, verified=False):
        with request_context(_request()):
            address.send_confirmation(_request())
        sent += 1
        yield f"The mail that asks {address.email} to confirm the address is on its way again."
    opened = Invitation.objects.open(now).filter(email__iexact=email)
    for invitation in opened.select_related("circle", "invited_by", "member"):
        actions.invite_again(invitation=invitation, now=now)
        sent += 1
        yield f"A new invitation to {invitation.circle} is on its way; the earlier one has ended."
    if not sent:
        yield f"Nothing waits for {email}: no address to confirm, and no open invitation."


def _login(email: str) -> User:
    try:
        return User.objects.get_by_natural_key(email)
    except User.DoesNotExist:
        raise CommandError(f"Nobody signs in as {email}. “people find” looks for them.") from None


def _request() -> HttpRequest:
    """What allauth writes its mails in answer to."""
    request = HttpRequest()
    request.META["HTTP_HOST"] = settings.SITE_URL.partition("://")[2].partition("/")[0]
    return request


TODO: dict[str, tuple[str, Callable[[str], Iterable[str]]]] = {
    "find": ("whose name or address this is part of", find),
    "disable": ("they can no longer sign in", disable),
    "enable": ("they can sign in again", enable),
    "remove": ("delete their account, for good", remove),
    "resend": ("send them again the mails that they have not answered", resend),
}
