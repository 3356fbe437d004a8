"""What allauth says when something is not right, in our words."""

from django.utils.translation import gettext_lazy

_WRONG_CODE = gettext_lazy("This code is not right. Your app shows a new one every half minute.")

OF_ACCOUNTS = {
    "account_inactive": gettext_lazy("This login is closed. Ask whoever runs the site."),
    "duplicate_email": gettext_lazy("This address is yours already."),
    "email_password_mismatch": gettext_lazy("The email address or the password is not right."),
    "email_taken": gettext_lazy(
        "There is already a login with this email address. If it is yours, sign in instead."
    ),
    "enter_current_password": gettext_lazy("This is not your password."),
    "incorrect_code": _WRONG_CODE,
    "incorrect_password": gettext_lazy("This is not your password."),
    "rate_limited": gettext_lazy("That was tried too often. Please wait a minute."),
    "too_many_login_attempts": gettext_lazy(
        "That was wrong too often. Wait at least five minutes, or choose a new password."
    ),
}

OF_SECOND_STEPS = {
    "cannot_delete_authenticator": gettext_lazy("This cannot be removed just now."),
    "cannot_generate_recovery_codes": gettext_lazy(
        "Set up an app or a passkey first: the codes are for a day when you do not have it."
    ),
    "incorrect_code": _WRONG_CODE,
    "unverified_email": gettext_lazy(
        "First confirm your email address: open the link that we sent to it."
    ),
}
