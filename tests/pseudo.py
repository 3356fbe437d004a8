"""A language that nobody speaks: every message in brackets, so that what has none stands out.

A message reads ``⟦Due on ⟧27 ⟦November⟧⟦.⟧``: what is filled in stands outside of its brackets and
needs its own, unless it is a name or a number.
"""

import gettext
import json
import re
import subprocess
from collections.abc import Iterable, Iterator
from html.parser import HTMLParser
from pathlib import Path
from typing import Any
from zoneinfo import available_timezones

import allauth
import django
import rest_framework
from django.apps import apps
from django.conf import settings
from django.db import models

from accounts.models import Event
from drives.craft.fibre.fibres import Fibre
from drives.craft.fibre.notation import CARE_CODES
from drives.exports.yarn_file import COLUMNS
from drives.sheets.kinds import KINDS
from drives.words.countries import countries

OPEN, CLOSE = "⟦", "⟧"
LOCALE = "en_US"  # it takes this one's place: circles that speak American speak it
PLACEHOLDER = re.compile(r"%\(\w+\)[-#0 +.\d]*[a-z]|%[sd]|\{\w*\}")
OTHERS = (
    *(Path(django.__path__[0]) / part for part in ("conf", "contrib/auth")),
    *(Path(package.__path__[0]) for package in (allauth, rest_framework)),
)
"""Whose messages the site shows too; any language that they know tells which they are."""

SPOKEN = ("alt", "aria-label", "data-label", "placeholder", "title")
SILENT = {"code", "pre", "script", "style"}
NAMES = re.compile(
    r"(?:https?://|[\w.+-]+@)\S+|\b(?:[\w-]+\.)+[a-z]{2,}(?:/\S*)?|\b[A-Z]{1,2}\d+\b"
    r"|#[0-9a-f]{6}\b|\b(?:localhost|testserver)\b|\bMitrewise\b|\bCSV\b",
    re.ASCII,
)
"""Addresses, places, colours, and what has the same name everywhere."""
FIELD = re.compile(r"^[\w.]+: ")  # a problem of the API begins with the field that it is about
MARGIN = re.compile(r"content:([^}]*)")
WORD = re.compile(r"[^\W\d_]{2,}")


def speak_it(folder: Path) -> None:
    """Write its catalogue below ``folder``, made of ours and of those of the packages."""
    compiled = folder / LOCALE / "LC_MESSAGES" / "django.mo"
    compiled.parent.mkdir(parents=True)
    ours = settings.BASE_DIR / "shared" / "locale" / LOCALE / "LC_MESSAGES" / "django.po"
    whole = folder / "whole.mo"
    filled = subprocess.run(["msgen", ours], check=True, capture_output=True).stdout
    subprocess.run(["msgfmt", "-o", whole, "-"], check=True, input=filled)
    entries: dict[Any, str] = {}
    for catalogue in (*_theirs(), whole):
        with catalogue.open("rb") as file:
            entries |= vars(gettext.GNUTranslations(file))["_catalog"]
    text = "\n".join(_written(entries))
    subprocess.run(["msgfmt", "-o", compiled, "-"], check=True, input=text.encode())


def _theirs() -> Iterator[Path]:
    for package in OTHERS:
        yield package / "locale" / "de" / "LC_MESSAGES" / "django.mo"


def _written(entries: dict[Any, str]) -> Iterator[str]:
    """The entries of a catalogue in brackets, as a ``.po`` has them."""
    yield (
        'msgid ""\nmsgstr ""\n"Content-Type: text/plain; charset=UTF-8\\n"\n'
        '"Plural-Forms: nplurals=2; plural=(n != 1);\\n"\n'
    )
    for key in entries:
        if isinstance(key, tuple):
            message, form = key
            if form == 0:
                more = str(entries.get((message, 1), message))
                head = f"{_head(message)}\nmsgid_plural {_quoted(more)}\n"
                yield head + f"msgstr[0] {_bracketed(message)}\nmsgstr[1] {_bracketed(more)}\n"
        elif key and (key, 0) not in entries:
            assert isinstance(key, str)
            yield f"{_head(key)}\nmsgstr {_bracketed(key)}\n"


def _head(key: str) -> str:
    context, _separator, message = key.rpartition("\x04")
    return (f"msgctxt {_quoted(context)}\n" if context else "") + f"msgid {_quoted(message)}"


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)


def _bracketed(key: str) -> str:
    message = key.rpartition("\x04")[2]
    inner = message.strip("\n")
    told = OPEN + PLACEHOLDER.sub(rf"{CLOSE}\g<0>{OPEN}", inner) + CLOSE
    return _quoted(message.replace(inner, told) if inner else message)


# --- What has no brackets ---


def outside(text: str, depth: int = 0) -> tuple[str, int]:
    """What of a text stands in no brackets, and how many are still open at its end."""
    bare = []
    for sign in text:
        if sign == OPEN:
            depth += 1
        elif sign == CLOSE:
            depth -= 1
            bare.append(" ")
        elif depth == 0:
            bare.append(sign)
    return "".join(bare), depth


class Page(HTMLParser):
    """The texts of a page that stand in no brackets."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.bare: list[str] = []
        self._depth = 0
        self._silent = 0
        self._style = False
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._silent += tag in SILENT
        self._style = tag == "style"
        given = dict(attrs)
        spoken = [given.get(name) for name in SPOKEN]
        if tag == "input" and given.get("type") in ("submit", "button"):
            spoken.append(given.get("value"))
        self.bare += [outside(text)[0] for text in spoken if text]

    def handle_endtag(self, tag: str) -> None:
        self._silent -= tag in SILENT
        self._style = False

    def handle_data(self, data: str) -> None:
        if not self._silent:
            text, self._depth = outside(data, self._depth)
            self.bare.append(text)
        elif self._style:  # what stands in the margins of paper
            quoted = re.findall(r'"([^"]*)"', " ".join(MARGIN.findall(data)))
            self.bare.append(outside(" ".join(quoted))[0])


def strings(value: Any) -> Iterator[str]:
    """Every text in a JSON value that is more than one word: the others are codes and names."""
    if isinstance(value, str):
        if " " in value:
            yield outside(FIELD.sub("", value))[0]
    elif isinstance(value, dict):
        for key, inner in value.items():
            if key != "subject":  # such as “plan 3”: a code
                yield from strings(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from strings(inner)


class Data:
    """What people have typed in, names of places, and codes: shown alike in every language."""

    def __init__(self) -> None:
        self._known = {*_typed_in(), *_codes()}
        self._names = {*_places()}

    def words(self, texts: Iterable[str], sent: Iterable[object] = ()) -> list[str]:
        """The texts with words that nobody has typed in; ``sent`` is typed in with them."""
        typed = self._known | {str(value) for value in sent}
        known = sorted((value for value in typed if WORD.search(value)), key=len, reverse=True)
        plain = (" ".join(text.split()) for text in texts)
        return [text for text in plain if self._foreign(text, known)]

    def _foreign(self, text: str, known: list[str]) -> bool:
        if not WORD.search(text) or text in self._names:
            return False
        rest = NAMES.sub(" ", text)
        for name in known:
            rest = re.sub(rf"(?<!\w){re.escape(name)}(?!\w)", " ", rest)
        return WORD.search(rest) is not None


def _places() -> Iterator[str]:
    for zone in available_timezones():
        yield zone.replace("_", " ")
        yield f"({zone})"
    for _code, country in countries():
        yield country


def _codes() -> Iterator[str]:
    """Of choices, kinds, events and the yarn file: data for programs."""
    for app in ("accounts", "drives"):
        for model in apps.get_app_config(app).get_models():
            for field in model._meta.fields:
                yield from (str(code) for code, _label in field.choices or ())
    yield from KINDS
    yield from (*COLUMNS, *CARE_CODES, *(fibre.value for fibre in Fibre))
    yield from Event.objects.values_list("verb", flat=True).distinct()


def _typed_in() -> Iterator[str]:
    for app in ("accounts", "drives"):
        for model in apps.get_app_config(app).get_models():
            fields = [
                field.name
                for field in model._meta.get_fields()
                if isinstance(field, models.CharField | models.TextField) and not field.choices
            ]
            for row in model._base_manager.values_list(*fields) if fields else ():
                yield from (value for value in row if value and len(value) > 1)
