"""What an audit says."""

from typing import NamedTuple


class Finding(NamedTuple):
    """Something that should never be: ``where`` it is, and in a sentence, ``what`` is wrong."""

    where: str
    what: str

    def __str__(self) -> str:
        return f"{self.where}: {self.what}"
