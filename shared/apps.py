import os

from celery.signals import task_postrun, task_prerun
from django.apps import AppConfig
from django.conf import settings

from shared.telling.reports import report_errors
from shared.workers import heart


class SharedConfig(AppConfig):
    name = "shared"

    def ready(self) -> None:
        """Every process counts its tasks, and tells of its errors if somebody wants to know.

        A worker whose supervisor watches over it tells that it is well.
        """
        # Only now: they read the settings.
        from shared.telling import counted

        task_prerun.connect(counted.task_begins)
        task_postrun.connect(counted.task_ends)
        if settings.ERRORS_URL:
            report_errors(settings.ERRORS_URL)
        if number := os.environ.pop(heart.NUMBER, None):
            from shared.workers.pulse import Pulse

            Pulse(heart.Heart(int(number)))
