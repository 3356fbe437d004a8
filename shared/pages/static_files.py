"""Which static files a host keeps: each once, under its hashed name, and only what pages load."""

from django.contrib.staticfiles.apps import StaticFilesConfig
from django.contrib.staticfiles.storage import ManifestStaticFilesStorage
from whitenoise.storage import CompressedManifestStaticFilesStorage


class Collected(StaticFilesConfig):
    """Without what packages bring for pages that this site does not have."""

    ignore_patterns = [
        *StaticFilesConfig.ignore_patterns,
        "*.map",  # of the sources of scripts: for whoever mends these
        "redoc",  # a second viewer of the API's docs
        "rest_framework",  # pages for the API, which answers JSON alone
        "hx-*.js",  # extensions of htmx
    ]


class Hashed(CompressedManifestStaticFilesStorage):  # type: ignore[misc]
    """What a file says of a source map stays as it is: there are none."""

    keep_only_hashed_files = True
    patterns = tuple(
        (kind, tuple(rule for rule in rules if "sourceMappingURL" not in str(rule)))
        for kind, rules in ManifestStaticFilesStorage.patterns
    )
