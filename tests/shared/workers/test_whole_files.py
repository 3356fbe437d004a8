"""The queue of files."""

import json
import threading
from pathlib import Path

from django.conf import settings
from kombu import Connection

from shared import celery_app
from shared.configuration.parts import queue_options
from shared.workers.whole_files import Transport


def test_who_reads_quickly_reads_whole_messages(tmp_path: Path) -> None:
    """Each file that bears the name of a message, at any moment, is a message."""
    options = queue_options(None, tmp_path)
    waiting = Path(options["data_folder_in"])
    over = threading.Event()
    broken: list[str] = []

    def read() -> None:
        while not over.is_set():
            for file in waiting.glob("*.msg"):
                try:
                    json.loads(file.read_bytes())
                except ValueError:
                    broken.append(file.name)

    reader = threading.Thread(target=read)
    reader.start()
    with Connection("filesystem://", transport_options=options) as queue:
        assert isinstance(queue.transport, Transport)
        told = queue.SimpleQueue("clock")
        for number in range(200):
            told.put({"number": number, "long": "x" * 5_000})
        over.set()
        reader.join()
        assert broken == []
        got = sorted(told.get(timeout=5).payload["number"] for _ in range(200))
        assert got == list(range(200))


def test_the_site_has_it() -> None:
    if settings.CELERY_BROKER_URL.startswith("filesystem:"):
        assert isinstance(celery_app.connection().transport, Transport)
