"""Places are named as on a chess board: letters from the left, numbers from the bottom."""

import re
from enum import StrEnum
from functools import cache
from typing import NamedTuple, Self

LIMIT = 150  # columns, and rows
_NAME = re.compile(r"([A-Za-z]{1,2})([1-9][0-9]{0,2})")


class Wrong(StrEnum):
    """Why a name is not that of a place."""

    NOT_A_NAME = "not-a-name"
    TOO_FAR = "too-far"  # beyond the largest blanket


class NoPlace(ValueError):
    """There is no place called ``name``."""

    def __init__(self, wrong: Wrong, name: str) -> None:
        super().__init__(f"{wrong}: {name}")
        self.wrong = wrong
        self.name = name


class Place(NamedTuple):
    """One unit of the grid; column and row count from 1 at the bottom left.

    >>> str(Place(3, 4)), str(Place(27, 1))
    ('C4', 'AA1')
    """

    column: int
    row: int

    def __str__(self) -> str:
        return f"{letters(self.column)}{self.row}"

    @classmethod
    def parse(cls, name: str) -> Self:
        """Read a place's name, in either case.

        Raises NoPlace when ``name`` is not the name of a place within 150 columns and rows.

        >>> Place.parse("c4")
        Place(column=3, row=4)
        """
        match = _NAME.fullmatch(name.strip())
        if match is None:
            raise NoPlace(Wrong.NOT_A_NAME, name)
        column = 0
        for letter in match[1].upper():
            column = column * 26 + ord(letter) - ord("A") + 1
        row = int(match[2])
        if column > LIMIT or row > LIMIT:
            raise NoPlace(Wrong.TOO_FAR, match[0].upper())
        return cls(column, row)


@cache
def letters(column: int) -> str:
    """Name column 1, 2, … as A, B, … Z, AA, AB, …"""
    name = ""
    while column:
        column, rest = divmod(column - 1, 26)
        name = chr(ord("A") + rest) + name
    return name


@cache
def row_of_places(row: int) -> tuple[Place, ...]:
    """Places 0 … ``LIMIT`` of one row, made once: a plan needs them by the thousand."""
    return tuple(Place(column, row) for column in range(LIMIT + 1))
