"""The forms and the queries of a page, as a browser would send them."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser
from urllib.parse import parse_qsl, urljoin, urlsplit


@dataclass
class Sent:
    """What one form sends, filled as it stands; or one link with a query, by GET.

    What must be told and is not has something likely, or what is odd elsewhere would be lost in a
    form that is refused anyway.
    """

    method: str
    path: str
    fields: dict[str, list[str]] = field(default_factory=dict)
    files: set[str] = field(default_factory=set)

    @property
    def key(self) -> tuple[str, str, tuple[str, ...]]:
        """Two that are alike in this are one form."""
        return self.method, self.path, tuple(sorted(self.fields))


LIKELY = {"email": "nina@example.org", "number": "1", "date": "2026-12-01", "color": "#26375c"}


class _Reader(HTMLParser):
    def __init__(self, path: str) -> None:
        super().__init__()
        self.path = path
        self.found: list[Sent] = []
        self._form: Sent | None = None
        self._select = ""
        self._must = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = {name: value or "" for name, value in attrs}
        name, value = told.get("name", ""), told.get("value", "")
        match tag:
            case "form":
                where = urlsplit(urljoin(self.path, told.get("action", "")))
                self._form = Sent(told.get("method", "get").upper(), where.path)
                self.found.append(self._form)
            case "a":
                where = urlsplit(urljoin(self.path, told.get("href", "")))
                if where.query and where.path == self.path:
                    sent = Sent("GET", where.path)
                    for one, its in parse_qsl(where.query, keep_blank_values=True):
                        sent.fields.setdefault(one, []).append(its)
                    self.found.append(sent)
            case "select" if name:
                self._select = name
                self._must = "required" in told
                self._put(name)
            case "option" if self._select and ("selected" in told or self._open()):
                self._put(self._select, value, instead=True)
            case "textarea" if name:
                self._put(name, "x" if "required" in told else "")
            case "input" if name and told.get("type") == "file":
                if self._form:
                    self._form.files.add(name)
            case "input" if name and told.get("type") in ("checkbox", "radio"):
                chosen = "checked" in told or ("required" in told and not self._has(name))
                instead = "checked" in told and told["type"] == "radio"
                self._put(name, *([value or "on"] if chosen else []), instead=instead)
            case "input" | "button" if name:
                kind = told.get("type", "")
                if "required" in told:
                    value = value or told.get("min") or LIKELY.get(kind, "x")
                if not (kind == "submit" and self._has(name)):
                    self._put(name, value)

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self._form = None
        if tag == "select":
            self._select = ""

    def _has(self, name: str) -> bool:
        return bool(self._form and self._form.fields.get(name))

    def _open(self) -> bool:
        """Whether the list has no choice yet, or has to have one and it says nothing."""
        held = self._form.fields.get(self._select, []) if self._form else []
        return not any(held) if self._must else not held

    def _put(self, name: str, *values: str, instead: bool = False) -> None:
        if self._form is None:
            return
        held = self._form.fields.setdefault(name, [])
        if instead:
            held.clear()
        held += values


def sent_from(page: str, path: str) -> Iterator[Sent]:
    """Each form of the page, and each link to the page itself with a query."""
    reader = _Reader(path)
    reader.feed(page)
    seen = set()
    for sent in reader.found:
        sent.fields.pop("csrfmiddlewaretoken", None)
        if sent.key not in seen:
            seen.add(sent.key)
            yield sent
