"""What allauth says is said in our words."""

from pathlib import Path

import allauth
import pytest
from django.conf import settings
from django.test import Client

from tests.cast import Cast

THEIRS = Path(allauth.__file__).parent / "templates"
OURS = Path(settings.BASE_DIR) / "templates"
SPOKEN = ("account/messages", "account/email", "mfa/messages", "mfa/email")
# For what nobody can do here: codes by e-mail, telephones, several addresses. The letter to
# somebody who signs up is, by allauth's template, the one that asks for any other proof.
NEVER = (
    *("login_code", "reset_code", "phone", "password_set", "primary_email", "unknown_account"),
    *("email_confirm_", "email_confirmation_signup"),
)


@pytest.mark.parametrize("folder", SPOKEN)
def test_every_message_and_letter_is_ours(folder: str) -> None:
    names = {path.name for path in (THEIRS / folder).iterdir()}
    needed = {name for name in names if not any(part in name for part in NEVER)}
    assert needed
    assert needed <= {path.name for path in (OURS / folder).iterdir()}


@pytest.mark.django_db
def test_the_page_of_a_closed_login_is_ours() -> None:
    assert "closed this login" in Client().get("/account/inactive/").content.decode()


def test_the_fields_for_a_new_password_speak_as_we_do(cast: Cast, client: Client) -> None:
    client.force_login(cast.stan)
    page = client.get("/account/password/change/").content.decode()
    for label in ("Your current password", "New password", "New password, once more"):
        assert f"{label}</label>" in page
    assert "placeholder" not in page
    assert "calendar addresses stop working" in " ".join(page.split())
