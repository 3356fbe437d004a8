"""Passwords that are guessed first."""

import re

from django.contrib.auth.password_validation import (
    CommonPasswordValidator,
    MinimumLengthValidator,
    NumericPasswordValidator,
    UserAttributeSimilarityValidator,
)
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from accounts.models import User

# What comes to mind here. With digits and signs around it each is as easy.
WORDS = frozenset(
    word + ending
    for word in (
        *("mitrewise", "mitre", "mitred", "miter", "mitered", "blanket", "square", "knit"),
        *("knitter", "knitting", "knitwear", "crochet", "crocheting", "yarn", "wool", "stitch"),
        *("needle", "purl", "circle", "knittingcircle", "knittinggroup", "gauge", "tension"),
    )
    for ending in ("", "s", "es")
)


class LongEnough(MinimumLengthValidator):
    """In our words."""

    def get_error_message(self) -> str:
        return ngettext(
            "A password needs at least %(count)d character.",
            "A password needs at least %(count)d characters.",
            self.min_length,
        ) % {"count": self.min_length}

    def get_help_text(self) -> str:
        return ngettext(
            "Your password needs at least %(count)d character.",
            "Your password needs at least %(count)d characters.",
            self.min_length,
        ) % {"count": self.min_length}


class NotTheUsual(CommonPasswordValidator):
    """In our words."""

    def get_error_message(self) -> str:
        return _("Many people use this password, so it is among the first that are tried.")

    def get_help_text(self) -> str:
        return _("It cannot be one that many people use.")


class NotOnlyDigits(NumericPasswordValidator):
    """In our words."""

    def get_error_message(self) -> str:
        return _("Digits alone are soon guessed. Add some letters.")

    def get_help_text(self) -> str:
        return _("It cannot be digits alone.")


class NotLikeTheAddress(UserAttributeSimilarityValidator):
    """In our words."""

    def get_error_message(self) -> str:
        return _("This is too much like your email address.")

    def get_help_text(self) -> str:
        return _("It cannot be much like your email address.")


class NotTheObvious:
    """A validator for ``AUTH_PASSWORD_VALIDATORS``: neither a word of the trade nor one's name."""

    def validate(self, password: str, user: User | None = None) -> None:
        letters = _letters(password)
        if letters in WORDS:
            raise ValidationError(_("This is a word that everybody here would try first."))
        name = _letters(user.name) if user else ""
        if len(name) > 2 and letters in (name, *map(_letters, user.name.split() if user else ())):
            raise ValidationError(_("This is too much like your name."))

    def get_help_text(self) -> str:
        return _("It can be neither your name nor a word of knitting.")


def _letters(text: str) -> str:
    return re.sub(r"[\W\d_]", "", text).lower()
