"""The site's settings with one task that is always due; ``MITREWISE_TEST_SQLITE`` is its database.

Nobody is there to do the task: that it was sent is all that is looked at.
"""

import os

from shared.settings import *  # noqa: F403
from shared.settings import DATABASES

if "MITREWISE_TEST_SQLITE" in os.environ:
    DATABASES["default"]["NAME"] = os.environ["MITREWISE_TEST_SQLITE"]
CELERY_BEAT_SCHEDULE = {"always": {"task": "nobody.knows.it", "schedule": 0.5}}
