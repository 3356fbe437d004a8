"""The Django app of people and circles."""

from django.apps import AppConfig


class AccountsConfig(AppConfig):
    """People, circles and what each may do there."""

    name = "accounts"
    default_auto_field = "django.db.models.BigAutoField"
