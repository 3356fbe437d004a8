"""The site's settings for the campaign: no limits, and long sessions for clocks put forward."""

from shared.settings import *  # noqa: F403
from shared.settings import LIMITS, REST_FRAMEWORK

REST_FRAMEWORK = {**REST_FRAMEWORK, "DEFAULT_THROTTLE_CLASSES": []}
LIMITS = {what: dict[str, str]() for what in LIMITS}
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
SESSION_COOKIE_AGE = 10 * 365 * 86_400
