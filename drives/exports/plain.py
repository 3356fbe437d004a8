"""Texts that every format can hold."""

from unicodedata import category


def plain(text: str) -> str:
    """``text`` without control characters, which neither XML nor calendars allow.

    Tabs and ends of lines stay.
    """
    return "".join(sign for sign in text if sign in "\t\n" or category(sign) != "Cc")
