"""The Celery app. Its settings are the ``CELERY_…`` names of ``shared.settings``."""

import os
import warnings

from celery import Celery
from kombu.transport import TRANSPORT_ALIASES

from shared.workers import heart

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shared.settings")

# Messages are JSON, so a worker that runs as root in a container is no danger of the kind meant.
warnings.filterwarnings("ignore", "You're running the worker with superuser privileges")

TRANSPORT_ALIASES["filesystem"] = "shared.workers.whole_files:Transport"

app = Celery("mitrewise")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks()

if number := os.environ.pop(heart.NUMBER, None):  # this process is a worker of ours
    from shared.workers.pulse import Pulse

    Pulse(heart.Heart(int(number)))
