from celery.signals import task_postrun, task_prerun
from django.apps import AppConfig
from django.conf import settings

from shared.telling.reports import report_errors


class SharedConfig(AppConfig):
    name = "shared"

    def ready(self) -> None:
        """Every process counts its tasks, and tells of its errors if somebody wants to know."""
        # Only now: they read the settings.
        from shared.telling import counted

        task_prerun.connect(counted.task_begins)
        task_postrun.connect(counted.task_ends)
        if settings.ERRORS_URL:
            report_errors(settings.ERRORS_URL)
