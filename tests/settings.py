"""The site's settings as the tests run them.

Each test process has a data folder of its own, so a test may start a real worker on it. The
database is SQLite there, or what ``./dev test --postgres`` started.
"""

import atexit
import os
import shutil
import tempfile
from urllib.parse import urlsplit

for name in [name for name in os.environ if name.startswith("MITREWISE_")]:
    if not name.startswith(("MITREWISE_TEST_", "MITREWISE_BENCH_")):
        del os.environ[name]
os.environ["MITREWISE_DATA"] = tempfile.mkdtemp(prefix="mitrewise-test-")
atexit.register(shutil.rmtree, os.environ["MITREWISE_DATA"], ignore_errors=True)
if "MITREWISE_TEST_DATABASE" in os.environ:
    os.environ["MITREWISE_DATABASE_URL"] = os.environ["MITREWISE_TEST_DATABASE"]
    # Of several test processes each has a part of the Redis to itself.
    number = os.environ.get("PYTEST_XDIST_WORKER", "gw0").removeprefix("gw")
    redis = urlsplit(os.environ["MITREWISE_TEST_REDIS"])._replace(path=f"/{number}")
    os.environ["MITREWISE_REDIS_URL"] = redis.geturl()
# Playwright runs an event loop in the thread of the test, and Django sees it.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"

from shared.settings import *  # noqa: E402, F403
from shared.settings import LIMITS, REST_FRAMEWORK  # noqa: E402

# No limits, but for the tests of the limits.
REST_FRAMEWORK = {
    **REST_FRAMEWORK,
    "DEFAULT_THROTTLE_RATES": dict.fromkeys(REST_FRAMEWORK["DEFAULT_THROTTLE_RATES"]),
}
LIMITS = {what: dict[str, str]() for what in LIMITS}
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
# Else every test client would go through all static files first, to serve none of them.
WHITENOISE_AUTOREFRESH = True
