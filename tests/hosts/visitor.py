"""Somebody with a browser that knows links, forms and cookies, and no scripts."""

import urllib.parse
import urllib.request
from http.cookiejar import CookieJar
from typing import Any, NamedTuple


class Page(NamedTuple):
    """What was answered in the end, and where."""

    path: str
    body: bytes

    @property
    def text(self) -> str:
        return self.body.decode()


class Visitor:
    """Asks the site at ``url``. Cookies hold for each port of this machine."""

    def __init__(self, url: str) -> None:
        self._url, self._cookies = url, CookieJar()
        cookies = urllib.request.HTTPCookieProcessor(self._cookies)
        self._browser = urllib.request.build_opener(cookies)

    def get(self, path: str, *, at: str = "") -> Page:
        """The page; of the site ``at`` another address, if one is given."""
        return self._ask(f"{at or self._url}{path}", None)

    def press(self, path: str, **fields: Any) -> Page:
        """Where a form leads that is sent to ``path``."""
        token = next(each.value for each in self._cookies if each.name == "csrftoken")
        sent = urllib.parse.urlencode({**fields, "csrfmiddlewaretoken": token})
        return self._ask(f"{self._url}{path}", sent.encode())

    def sign_in(self, name: str, password: str) -> None:
        self.get("/account/login/")
        here = self.press("/account/login/", login=f"{name}@example.org", password=password)
        assert here.path != "/account/login/", here.text

    def _ask(self, address: str, sent: bytes | None) -> Page:
        request = urllib.request.Request(address, sent)
        with self._browser.open(request, timeout=30) as answer:
            return Page(urllib.parse.urlsplit(answer.url).path, answer.read())
