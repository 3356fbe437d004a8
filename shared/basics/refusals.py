"""How an action says no."""


class Refused(Exception):
    """A request that is understood and allowed, but that the state of things stands against.

    ``code`` is stable and in kebab case (``not-ready``): programs compare it.
    ``detail`` is one sentence for a knitter: what is in the way and what would help.
    ``facts`` are further members of the API's problem document (``{"waiting_for": ["A2"]}``),
    so only what JSON can carry.
    """

    def __init__(self, code: str, detail: str, **facts: object) -> None:
        super().__init__(detail)
        self.code = code
        self.detail = detail
        self.facts = facts


class NotedRefusal(Refused):
    """A refusal after something was stored that is to stay, such as a place in a line."""
