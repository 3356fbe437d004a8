"""What the site cannot do without, and a sentence for each thing that is missing.

``QUICK`` is told at each ``/health/ready/``; ``deploy_check`` looks at ``AT_LEISURE`` as well.
A need is a function without arguments that answers with sentences, each of which says what to do;
none when all is well.
"""

from collections.abc import Callable, Iterable, Mapping

from shared.needs import outside, quick, troubles
from shared.workers import standstill

Need = Callable[[], Iterable[str]]

QUICK: Mapping[str, Need] = {
    "database": quick.database,
    "migrations": quick.migrations,
    "static files": quick.static_files,
    "queue": quick.queue,
    "files": quick.files,
    "parts": troubles.noted,
    "work": standstill.told,
}
AT_LEISURE: Mapping[str, Need] = {
    "settings": outside.settings_of_production,
    "data folder": outside.data_folder,
    "languages": outside.languages,
    "storage": outside.storage,
    "e-mail": outside.mail_server,
    "proxy": outside.proxy,
}


def missing(needs: Mapping[str, Need]) -> dict[str, list[str]]:
    """For each of ``needs`` by its name the sentences about it."""
    return {name: list(need()) for name, need in needs.items()}
