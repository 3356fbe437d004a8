"""The site's settings as the tests run them: a data folder for each process, quick passwords."""

import atexit
import os
import shutil
import tempfile

os.environ["MITREWISE_DATA"] = tempfile.mkdtemp(prefix="mitrewise-test-")
atexit.register(shutil.rmtree, os.environ["MITREWISE_DATA"], ignore_errors=True)

from shared.settings import *  # noqa: E402, F403

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
