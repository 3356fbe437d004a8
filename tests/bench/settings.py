"""The site's settings for the bench: the floors' addresses beside its own, and no limits."""

from shared.settings import *  # noqa: F403
from shared.settings import LIMITS, REST_FRAMEWORK

ROOT_URLCONF = "tests.bench.urls"
REST_FRAMEWORK = {**REST_FRAMEWORK, "DEFAULT_THROTTLE_CLASSES": []}
LIMITS = {what: dict[str, str]() for what in LIMITS}
