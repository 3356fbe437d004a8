"""The Celery app. Its settings are the ``CELERY_…`` names of ``shared.settings``."""

import os
import warnings

from celery import Celery
from kombu.transport import TRANSPORT_ALIASES

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shared.settings")

# Messages are JSON, so a worker that runs as root in a container is no danger of the kind meant.
warnings.filterwarnings("ignore", "You're running the worker with superuser privileges")

TRANSPORT_ALIASES["filesystem"] = "shared.workers.whole_files:Transport"

app = Celery("mitrewise")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks()
