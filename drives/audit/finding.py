"""What an audit says."""

from typing import NamedTuple

from django.db.models import Model

from drives.models import Claim, HandOver, Holding, Move, Piece, RotaLine, Sheet, Square, Turn


class Finding(NamedTuple):
    """Something that should never be: ``where`` it is, and in a sentence, ``what`` is wrong.

    ``hides_rows``: rows of the models cannot be read at all.
    """

    where: str
    what: str
    hides_rows: bool = False

    def __str__(self) -> str:
        return f"{self.where}: {self.what}"


def where(row: Model) -> str:
    """How a finding names the row: ``blanket 3, C4`` for a square, for others what they hang on."""
    match row:
        case Square():
            return f"blanket {row.blanket_id}, {row}"
        case Claim():
            return f"{where(row.square)}, claim {row.pk}"
        case RotaLine():
            return f"{where(row.square)}, line {row.pk} of the rota"
        case Piece():
            return f"blanket {row.blanket_id}, piece {row}"
        case HandOver():
            return f"{where(row.piece)}, hand-over {row.pk}"
        case Turn():
            return f"{where(row.piece)}, turn {row.pk}"
        case Holding():
            return f"yarn {row.yarn_id}, holding {row.pk}"
        case Move():
            return f"yarn {row.yarn_id}, line {row.pk}"
        case Sheet():
            return f"blanket {row.blanket_id}, sheet {row.pk}"
        case _:
            return f"{row._meta.verbose_name} {row.pk}"
