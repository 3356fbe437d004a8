"""The Celery app. Its settings are the ``CELERY_…`` names of ``shared.settings``."""

import os

from celery import Celery

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shared.settings")

app = Celery("mitrewise")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks()
