"""The Django app of drives, blankets and squares."""

from django.apps import AppConfig


class DrivesConfig(AppConfig):
    """What is made, by whom, and how far it is."""

    name = "drives"
    default_auto_field = "django.db.models.BigAutoField"
