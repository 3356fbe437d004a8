"""The Django app of drives, blankets and squares."""

from django.apps import AppConfig


class DrivesConfig(AppConfig):
    """What is made, by whom, and how far it is."""

    name = "drives"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """What is due stays due on its day where a circle's clock changes."""
        from accounts.actions.circles import when_the_clock_changes
        from drives.actions.squares.claims import keep_due_days

        when_the_clock_changes.append(keep_due_days)
