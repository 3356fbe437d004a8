"""Every code that an error of the API can have: one place for all of them (RFC 9457)."""

from collections.abc import Mapping
from typing import NamedTuple

from django.http import JsonResponse
from django.urls import reverse
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

Words = str | Promise


class Kind(NamedTuple):
    """One kind of problem; ``meaning`` says on its page what is wrong and what would help."""

    status: int
    title: Words
    meaning: Words


KINDS: dict[str, Kind] = {
    "bad-idempotency-key": Kind(
        400,
        _("Unusable Idempotency-Key"),
        _("An Idempotency-Key has 1 to 255 letters, digits or signs, without spaces."),
    ),
    "not-signed-in": Kind(
        401,
        _("Not signed in"),
        _("This call needs a session, or a header “Authorization: Token …” with a key."),
    ),
    "bad-token": Kind(
        401,
        _("Key not accepted"),
        _("The key is unknown or has been revoked, or its owner may not sign in any more."),
    ),
    "not-allowed": Kind(
        403,
        _("Not for your role"),
        _("You are in this circle, but none of your roles in it allows this call."),
    ),
    "csrf-failed": Kind(
        403,
        _("Request could not be trusted"),
        _("Calls by a browser’s session must bring the site’s CSRF token. Keys need none."),
    ),
    "not-found": Kind(
        404,
        _("Nothing here"),
        _("There is nothing at this address, or it belongs to a circle that you are not in."),
    ),
    "method-not-allowed": Kind(
        405, _("Not possible with this method"), _("The header Allow names the methods that are.")
    ),
    "not-acceptable": Kind(
        406, _("No such format"), _("The call cannot answer in any format that Accept names.")
    ),
    "not-ready": Kind(
        409,
        _("Not ready to begin"),
        _("“waiting_for” names the squares that must be finished before this one can be begun."),
    ),
    "already-taken": Kind(
        409, _("Already taken"), _("Somebody has this square in hand; choose another one.")
    ),
    "already-finished": Kind(
        409, _("Already finished"), _("The square is finished; choose another one.")
    ),
    "too-many-claims": Kind(
        409,
        _("Enough in hand"),
        _("The drive allows “limit” squares in hand at once; finish one or give one back first."),
    ),
    "not-yours": Kind(
        409,
        _("In somebody else’s hands"),
        _("Only who has, or knitted, the square or piece can do this, or a coordinator for them."),
    ),
    "not-taken": Kind(409, _("Not taken"), _("Nobody has the square in hand.")),
    "not-finished": Kind(
        409, _("Not finished"), _("Only what is finished can be ripped back, weighed or measured.")
    ),
    "others-stand-on-it": Kind(
        409,
        _("Other squares stand on it"),
        _("“rip_first” names what must be ripped back or given back before, topmost first."),
    ),
    "piece-elsewhere": Kind(
        409,
        _("The piece is with somebody else"),
        _("The square belongs to “piece”, and that is with “holder”. You are now in line for it."),
    ),
    "piece-full": Kind(
        409,
        _("Enough people at work"),
        _("“members” work on “piece” already, and no more can do so at a time."),
    ),
    "piece-on-its-way": Kind(
        409, _("The piece is on its way"), _("The square’s “piece” is being handed over.")
    ),
    "member-has-left": Kind(
        409, _("No longer in the circle"), _("Who has left the circle cannot take squares.")
    ),
    "piece-in-work": Kind(
        409,
        _("The piece is on somebody’s needles"),
        _("“members” have a square of “piece” in hand; they must finish it or give it back first."),
    ),
    "piece-is-theirs": Kind(
        409, _("They have the piece already"), _("Whom “piece” is to go to has it already.")
    ),
    "piece-is-no-more": Kind(
        409,
        _("The piece is no more"),
        _("“piece” was joined to another one, ripped back or lost."),
    ),
    "hand-over-open": Kind(
        409,
        _("Promised to somebody else"),
        _("The piece is to go to “to”; that hand-over must be received or cancelled first."),
    ),
    "hand-over-ended": Kind(
        409, _("The hand-over is over"), _("The piece was received, or it was cancelled before.")
    ),
    "no-travelling": Kind(
        409,
        _("The pieces stay with the circle"),
        _("Only in a travelling drive do pieces pass from hand to hand."),
    ),
    "no-colour-plan": Kind(
        409,
        _("There is no such colour plan"),
        _("“reasons” tells each thing that makes it impossible, with a “code” and a “detail”."),
    ),
    "colour-plan-gave-up": Kind(
        409,
        _("No colour plan found"),
        _("Neither a plan was found in time nor a reason why there is none."),
    ),
    "not-in-palette": Kind(
        409,
        _("None of the blanket’s colours"),
        _("“palette” names the blanket’s colours; it is empty before they are chosen."),
    ),
    "colour-is-there": Kind(
        409,
        _("A colour of this name is there"),
        _("The palette has a colour of this name from the store; own yarn needs another name."),
    ),
    "not-so-much-yarn": Kind(
        409, _("Not so much yarn"), _("“grams” is what the store, or the member, has of it.")
    ),
    "sheet-not-made": Kind(
        409,
        _("Sheet not made yet"),
        _("The file is there when “status” is “done”; what “failed” can be asked for anew."),
    ),
    "too-large": Kind(
        413,
        _("Body too large"),
        _("A body may have up to 2.5 megabytes; the largest plan needs less."),
    ),
    "unsupported-media-type": Kind(415, _("Not JSON"), _("Bodies are sent as application/json.")),
    "invalid-plan": Kind(
        422,
        _("The plan cannot be knitted"),
        _("“errors” lists every “field” that is wrong, with the reason in “detail”."),
    ),
    "invalid-input": Kind(
        422,
        _("Something in the call is wrong"),
        _("“errors” lists every “field” that is wrong, with the reason in “detail”."),
    ),
    "idempotency-key-reused": Kind(
        422,
        _("Idempotency-Key used for another call"),
        _("A key belongs to one call with one body; take a new key for another call."),
    ),
    "too-many-requests": Kind(
        429, _("Too many calls"), _("The header Retry-After says after how many seconds to go on.")
    ),
    "internal-error": Kind(
        500, _("The site has failed"), _("The fault is the site’s, and it has been written down.")
    ),
}


def problem(
    code: str,
    detail: Words,
    headers: Mapping[str, str] | None = None,
    members: Mapping[str, object] | None = None,
) -> JsonResponse:
    """The answer that tells a problem; ``members`` must be JSON. KeyError for an unknown code."""
    kind = KINDS[code]
    body = {
        "type": reverse("api:problem", args=[code]),
        "title": str(kind.title),
        "status": kind.status,
        "detail": str(detail),
        **(members or {}),
    }
    return JsonResponse(
        body, status=kind.status, content_type="application/problem+json", headers=headers
    )
