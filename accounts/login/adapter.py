"""What allauth asks the site."""

from typing import Any

from allauth.account.adapter import DefaultAccountAdapter
from allauth.account.models import EmailAddress
from allauth.core.internal.ratelimit import get_ip
from django.conf import settings
from django.contrib import messages
from django.core.exceptions import ValidationError
from django.core.mail import EmailMessage
from django.db import IntegrityError
from django.http import HttpRequest
from django.urls import reverse
from django.utils import timezone

from accounts.actions import begin_session, change_password, queue_mail
from accounts.actions.security import note_security
from accounts.login.known import guesser, nobody_known
from accounts.login.sentences import OF_ACCOUNTS
from accounts.models import SecurityKind, User
from shared.basics.limits import LimitReached, forget, spend
from shared.basics.transactions import writing


class Queued(EmailMessage):
    """What is sent by the workers."""

    def send(self, fail_silently: bool = False, *, using: str | None = None) -> int:
        """A row for each of those it is for."""
        for to in self.to:
            heading, body = str(self.subject), str(self.body)
            queue_mail(to=to, heading=heading, body=body, now=timezone.now())
        return len(self.to)


class Adapter(DefaultAccountAdapter):  # type: ignore[misc]
    """Links lead to ``SITE_URL``, whatever host the asker has named."""

    error_messages = DefaultAccountAdapter.error_messages | OF_ACCOUNTS

    def render_mail(self, *given: Any, **named: Any) -> EmailMessage:
        """A mail that waits in its row when allauth sends it: no page waits for a mail server."""
        message = super().render_mail(*given, **named)
        return Queued(message.subject, message.body, to=message.to)

    def get_reset_password_from_key_url(self, key: str) -> str:
        """As allauth makes it, from parts: it takes the user and the secret as one."""
        parts = {"uidb36": "UID", "key": "KEY"}
        path = reverse("account_reset_password_from_key", kwargs=parts)
        return settings.SITE_URL + path.replace("UID-KEY", key)

    def get_email_confirmation_url(self, request: HttpRequest, emailconfirmation: Any) -> str:
        """The page that asks whether the address is theirs."""
        return settings.SITE_URL + reverse("account_confirm_email", args=[emailconfirmation.key])

    def send_account_already_exists_mail(self, email: str) -> None:
        """To somebody who signs up again. It takes as long as a new login: time tells nothing."""
        User().set_password(email)
        link = settings.SITE_URL + reverse("account_reset_password")
        template = "account/email/account_already_exists"
        self.send_mail(template, email, {"password_reset_url": link})

    def send_password_reset_mail(self, user: User, email: str, context: dict[str, Any]) -> None:
        """To nobody, where it is not for a login that is stored."""
        super().send_password_reset_mail(user, email if user.pk else "", context)

    def set_password(self, user: User, password: str) -> None:
        """What was opened with the one before ends."""
        change_password(user=user, password=password, now=timezone.now())
        forget("guesses", now=timezone.now(), guesser=nobody_known(user.email))

    def _get_login_attempts_cache_key(self, request: HttpRequest, **credentials: Any) -> str:
        """Guessing is stopped by address and network: the owner still gets in from elsewhere."""
        return f"{credentials.get('email', '').lower()} {get_ip(request)}"

    def login(self, request: HttpRequest, user: User) -> None:
        """Its owner finds the session among theirs."""
        super().login(request, user)
        browser = self.get_http_user_agent(request)
        begin_session(session=request.session, browser=browser, now=timezone.now())

    def pre_authenticate(self, request: HttpRequest, **credentials: Any) -> None:
        """Keeps out whoever guesses, and notes that."""
        whose = guesser(request, str(credentials.get("email", "")))
        try:
            super().pre_authenticate(request, **credentials)
            spend("guesses", now=timezone.now(), guesser=whose)
        except (ValidationError, LimitReached) as limit:
            self._note(SecurityKind.SIGN_IN_LOCKED, credentials)
            raise self.validation_error("too_many_login_attempts") from limit

    def authentication_failed(self, request: HttpRequest, **credentials: Any) -> None:
        """So is each failed try, without what was typed: that may be a password."""
        self._note(SecurityKind.SIGN_IN_FAILED, credentials)

    def _note(self, kind: SecurityKind, credentials: dict[str, Any]) -> None:
        tried = User.objects.filter(email__iexact=str(credentials.get("email", ""))).first()
        note_security(kind, now=timezone.now(), about=tried)

    def can_delete_email(self, email_address: EmailAddress) -> bool:
        """Never the one that they sign in with."""
        return bool(email_address.email != email_address.user.email)

    def confirm_email(self, request: HttpRequest, email_address: EmailAddress) -> bool:
        """False where somebody else signs in with this address by now."""
        try:
            with writing():
                return bool(super().confirm_email(request, email_address))
        except IntegrityError:
            self.add_message(
                request,
                messages.ERROR,
                "account/messages/email_confirmation_failed.txt",
                {"email": email_address.email},
            )
            return False
