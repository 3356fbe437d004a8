"""Days and times are written as the reader writes them."""

import re
from datetime import date

from django.conf import settings
from django.utils import translation
from django.utils.formats import date_format, get_format

from shared.formats.en_GB import formats

NAMES = [name for name in vars(formats) if name.endswith("_FORMAT")]
FIXED = re.compile(
    r'''\|(?:date|time):"(?!\w+_FORMAT")[^"]*"'''
    r'''|"[dDjlNmMnFYHhGgiAa](?:[ ,.:/]+[dDjlNmMnFYHhGgiAa])+"'''
)
"""A filter without a named format, or single letters in a row, such as ``j F``."""


def test_every_locale_has_every_format() -> None:
    for locale, _name in settings.LANGUAGES:
        # A name without a format answers itself.
        assert [name for name in NAMES if get_format(name, locale) == name] == [], locale


def test_the_month_comes_first_for_americans() -> None:
    day = date(2026, 11, 17)
    told = []
    for locale in ("en-gb", "en-us"):
        with translation.override(locale):
            told.append([date_format(day, name) for name in ("LONG_DATE_FORMAT", "WEEKDAY_FORMAT")])
    assert told == [
        ["17 November 2026", "Tuesday, 17 November 2026"],
        ["November 17, 2026", "Tuesday, November 17, 2026"],
    ]


def test_no_page_letter_or_document_fixes_how_a_day_is_written() -> None:
    """Programs read ISO 8601: the one format that has no name."""
    fixed = {
        f"{path}: {found}"
        for folder in ("accounts", "drives", "templates")
        for ending in ("html", "py", "txt")
        for path in (settings.BASE_DIR / folder).rglob(f"*.{ending}")
        for found in FIXED.findall(path.read_text(encoding="utf-8"))
    }
    assert fixed == set()
