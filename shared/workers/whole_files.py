"""The queue of files, whose messages appear there whole.

Celery's own opens the file in the queue's folder and then writes: a worker that was quick read
nothing, and ended.
"""

import uuid
from pathlib import Path
from time import monotonic
from typing import Any

from kombu.transport import filesystem
from kombu.utils.encoding import str_to_bytes
from kombu.utils.json import dumps


class Channel(filesystem.Channel):
    """One whose messages are written beside the queue and then named as messages are."""

    def _put(self, queue: str, message: Any, **kwargs: Any) -> None:  # type: ignore[override]
        """As Celery's own names it: the oldest comes first, and the queue is read from the name."""
        name = f"{round(monotonic() * 1000)}_{uuid.uuid4()}.{queue}.msg"
        file = Path(self.data_folder_out) / name
        fresh = file.with_name(f"{name}.new")
        fresh.write_bytes(str_to_bytes(dumps(message)))
        fresh.rename(file)


class Transport(filesystem.Transport):
    """Known to Celery as ``filesystem``."""

    Channel = Channel
