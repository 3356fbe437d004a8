"""The second step when signing in: what allauth asks the site about it."""

import base64
from hashlib import sha256

import segno
from allauth.core import context
from allauth.mfa.adapter import DefaultMFAAdapter
from allauth.mfa.models import Authenticator
from cryptography.fernet import Fernet, MultiFernet
from django.conf import settings
from django.utils.translation import gettext as _

from accounts.login.sentences import OF_SECOND_STEPS
from accounts.models import Member, User

SITE = "Mitrewise"
STEPS = (Authenticator.Type.TOTP, Authenticator.Type.WEBAUTHN)


class SecondStep(DefaultMFAAdapter):  # type: ignore[misc]
    """The secrets of apps and codes lie encrypted in the database: a copy of it opens nothing."""

    error_messages = DefaultMFAAdapter.error_messages | OF_SECOND_STEPS

    def get_totp_issuer(self) -> str:
        """What the app calls us."""
        return SITE

    def build_totp_svg(self, url: str) -> str:
        """With the maker of all our codes."""
        drawn: str = segno.make(url, error="m", micro=False).svg_inline(scale=5)
        # It is shown as a picture, which stands alone, so it must say what it is.
        return drawn.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1)

    def encrypt(self, text: str) -> str:
        """Under today's secret key."""
        return _locks().encrypt(text.encode()).decode()

    def decrypt(self, encrypted_text: str) -> str:
        """Under today's secret key, or one of those before."""
        return _locks().decrypt(encrypted_text.encode()).decode()

    def generate_authenticator_name(self, user: User, type: str) -> str:
        """Passkeys are counted."""
        number = Authenticator.objects.filter(user=user, type=type).count() + 1
        return _("Passkey %(number)d") % {"number": number}

    def get_public_key_credential_rp_entity(self) -> dict[str, str]:
        """A passkey belongs to the host that asks for it."""
        return {"id": context.request.get_host().partition(":")[0], "name": SITE}


def must_have_second_step(user: User) -> bool:
    """Whether they are to have a second step, by the operator's choice."""
    return (
        settings.SECOND_FACTOR == "organisers"
        and Member.objects.present().organisers().filter(user=user).exists()
    )


def has_second_step(user: User) -> bool:
    """Whether signing in asks them for more than a password."""
    return bool(Authenticator.objects.filter(user=user, type__in=STEPS).exists())


def lacks_second_step(user: User) -> bool:
    """Whether they are to have a second step and have none."""
    return must_have_second_step(user) and not has_second_step(user)


def _locks() -> MultiFernet:
    keys = (settings.SECRET_KEY, *settings.SECRET_KEY_FALLBACKS)
    told = (sha256(b"second step: " + key.encode()).digest() for key in keys)
    return MultiFernet([Fernet(base64.urlsafe_b64encode(key)) for key in told])
