"""Where files are kept: in a folder of the only host, or in a bucket that all hosts share.

``settings.STORAGES`` chooses. Whatever keeps a file from being read or written, but that it is not
there, is ``FilesAway``: pages and the API answer 503 with a sentence, a worker tries again later.
"""

from django.core.files.base import File
from django.core.files.storage import FileSystemStorage

AWAY_SECONDS = 30  # after which one may ask again


class FilesAway(OSError):
    """What keeps the files does not answer now; later it may."""


class Folder(FileSystemStorage):
    """The folder ``settings.MEDIA_ROOT``."""

    def open(self, name: str, mode: str = "rb") -> "File[bytes]":
        try:
            return super().open(name, mode)
        except FileNotFoundError:
            raise
        except OSError as problem:
            raise FilesAway(str(problem)) from problem
