"""The whole site as one file: every row, and every file that a row names.

The rows are taken in one snapshot, then the files that they name; so the site may go on meanwhile.
"""

from .archive import Contents, restore, write
from .problems import BackupProblem

__all__ = ["BackupProblem", "Contents", "restore", "write"]
