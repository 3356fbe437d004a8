"""How a supervisor sees that a worker works: the worker says again and again for how long it will.

What it says lies in a file without a name that both have open, as a time of this machine's own
clock, which nobody puts forward or back.
"""

import os
import struct
import tempfile
import time
import weakref
from pathlib import Path

# Where a worker finds the number of its heart's file.
NUMBER = "WORKER_HEART"
_TIME = struct.Struct("d")


class Heart:
    """In the file with this number, or in a new one."""

    def __init__(self, file: int | None = None) -> None:
        if file is None:
            file, name = tempfile.mkstemp()
            Path(name).unlink()
            weakref.finalize(self, os.close, file)
        self.file = file

    def beat(self, seconds: float) -> None:
        """For so long nobody need worry."""
        os.pwrite(self.file, _TIME.pack(time.monotonic() + seconds), 0)

    def has_stopped(self) -> bool:
        """Whether the time is over for which it was to be well; not before its first beat."""
        told = os.pread(self.file, _TIME.size, 0)
        return bool(told) and _TIME.unpack(told)[0] < time.monotonic()
