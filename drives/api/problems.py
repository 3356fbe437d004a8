"""Every code that an error of the API can have: one place for all of them (RFC 9457)."""

from collections.abc import Mapping
from typing import NamedTuple

from django.http import JsonResponse
from django.urls import reverse
from django.utils.translation import gettext_lazy

from shared.basics.text import Text


class ProblemKind(NamedTuple):
    """One kind of problem; ``meaning`` says on its page what is wrong and what would help."""

    status: int
    title: Text
    meaning: Text


PROBLEM_KINDS: dict[str, ProblemKind] = {
    "bad-idempotency-key": ProblemKind(
        400,
        gettext_lazy("Unusable Idempotency-Key"),
        gettext_lazy("An Idempotency-Key has 1 to 255 letters, digits or signs, without spaces."),
    ),
    "not-signed-in": ProblemKind(
        401,
        gettext_lazy("Not signed in"),
        gettext_lazy("This call needs a session, or a header “Authorization: Token …” with a key."),
    ),
    "bad-token": ProblemKind(
        401,
        gettext_lazy("Key not accepted"),
        gettext_lazy(
            "The key is unknown, too old or revoked, or its owner may not sign in any more. Or its "
            "owner organises a circle, and made it without the second step that this site asks of "
            "organisers."
        ),
    ),
    "key-only-reads": ProblemKind(
        403,
        gettext_lazy("The key may only read"),
        gettext_lazy("Its owner chose so when they made it; this call changes something."),
    ),
    "not-allowed": ProblemKind(
        403,
        gettext_lazy("Not for your role"),
        gettext_lazy("You are in this circle, but none of your roles in it allows this call."),
    ),
    "csrf-failed": ProblemKind(
        403,
        gettext_lazy("Request could not be trusted"),
        gettext_lazy(
            "Calls by a browser’s session must bring the site’s CSRF token. Keys need none."
        ),
    ),
    "not-found": ProblemKind(
        404,
        gettext_lazy("Nothing here"),
        gettext_lazy(
            "There is nothing at this address, or it belongs to a circle that you are not in."
        ),
    ),
    "method-not-allowed": ProblemKind(
        405,
        gettext_lazy("Not possible with this method"),
        gettext_lazy("The header Allow names the methods that are."),
    ),
    "not-acceptable": ProblemKind(
        406,
        gettext_lazy("No such format"),
        gettext_lazy("The call cannot answer in any format that Accept names."),
    ),
    "not-ready": ProblemKind(
        409,
        gettext_lazy("Not ready to begin"),
        gettext_lazy(
            "“waiting_for” names the squares that must be finished before this one can be begun."
        ),
    ),
    "already-taken": ProblemKind(
        409,
        gettext_lazy("Already taken"),
        gettext_lazy("Somebody has this square in hand; choose another one."),
    ),
    "already-finished": ProblemKind(
        409,
        gettext_lazy("Already finished"),
        gettext_lazy("The square is finished; choose another one."),
    ),
    "too-many-claims": ProblemKind(
        409,
        gettext_lazy("Enough in hand"),
        gettext_lazy(
            "The drive allows “limit” squares in hand at once; finish one or give one back first."
        ),
    ),
    "counted-elsewhere": ProblemKind(
        409,
        gettext_lazy("Counted on another page"),
        gettext_lazy("More rows are counted by now than the page showed; none was taken back."),
    ),
    "not-yours": ProblemKind(
        409,
        gettext_lazy("In somebody else’s hands"),
        gettext_lazy(
            "Only the person who has or knitted it, or a coordinator for them, can do this."
        ),
    ),
    "not-taken": ProblemKind(
        409, gettext_lazy("Not taken"), gettext_lazy("Nobody has the square in hand.")
    ),
    "not-finished": ProblemKind(
        409,
        gettext_lazy("Not finished"),
        gettext_lazy("Only what is finished can be ripped back, weighed or measured."),
    ),
    "others-stand-on-it": ProblemKind(
        409,
        gettext_lazy("Other squares stand on it"),
        gettext_lazy(
            "“rip_first” names what must be ripped back or given back before, topmost first."
        ),
    ),
    "piece-elsewhere": ProblemKind(
        409,
        gettext_lazy("The piece is with somebody else"),
        gettext_lazy(
            "The square belongs to “piece”, and that is with “holder”. You are now in line for it."
        ),
    ),
    "piece-full": ProblemKind(
        409,
        gettext_lazy("Enough people at work"),
        gettext_lazy("“members” work on “piece” already, and no more can do so at a time."),
    ),
    "piece-on-its-way": ProblemKind(
        409,
        gettext_lazy("The piece is on its way"),
        gettext_lazy("The square’s “piece” is being handed over."),
    ),
    "member-has-left": ProblemKind(
        409,
        gettext_lazy("No longer in the circle"),
        gettext_lazy("Somebody who has left the circle cannot take squares."),
    ),
    "piece-in-work": ProblemKind(
        409,
        gettext_lazy("The piece is on somebody’s needles"),
        gettext_lazy(
            "“members” have a square of “piece” in hand; they must finish it or give it back first."
        ),
    ),
    "piece-is-theirs": ProblemKind(
        409,
        gettext_lazy("They have the piece already"),
        gettext_lazy("Whom “piece” is to go to has it already."),
    ),
    "piece-is-no-more": ProblemKind(
        409,
        gettext_lazy("The piece is no more"),
        gettext_lazy("“piece” was joined to another one, ripped back or lost."),
    ),
    "hand-over-open": ProblemKind(
        409,
        gettext_lazy("Promised to somebody else"),
        gettext_lazy(
            "The piece is to go to “to”; that hand-over must be received or cancelled first."
        ),
    ),
    "hand-over-ended": ProblemKind(
        409,
        gettext_lazy("The hand-over is over"),
        gettext_lazy("The piece was received, or it was cancelled before."),
    ),
    "no-travelling": ProblemKind(
        409,
        gettext_lazy("The pieces stay with the circle"),
        gettext_lazy("Only in a travelling drive do pieces pass from hand to hand."),
    ),
    "no-colour-plan": ProblemKind(
        409,
        gettext_lazy("There is no such colour plan"),
        gettext_lazy(
            "“reasons” tells each thing that makes it impossible, with a “code” and a “detail”; "
            "of a plan that was proposed “helps” tells in the same way what would help."
        ),
    ),
    "colour-plan-gave-up": ProblemKind(
        409,
        gettext_lazy("No colour plan found"),
        gettext_lazy("Neither a plan was found in time nor a reason why there is none."),
    ),
    "not-in-palette": ProblemKind(
        409,
        gettext_lazy("None of the blanket’s colours"),
        gettext_lazy("“palette” names the blanket’s colours; it is empty before they are chosen."),
    ),
    "colour-is-there": ProblemKind(
        409,
        gettext_lazy("A colour of this name is there"),
        gettext_lazy(
            "The palette has a colour of this name from the store; own yarn needs another name."
        ),
    ),
    "no-conflict": ProblemKind(
        409,
        gettext_lazy("Nothing goes against the rules there"),
        gettext_lazy("What was to be overruled or upheld is mended, or never was a conflict."),
    ),
    "lots-unlike": ProblemKind(
        409,
        gettext_lazy("Yarns that are not mixed"),
        gettext_lazy(
            "Only yarns of one thickness and the same fibres are knitted as one colour. “why” "
            "tells what differs: thickness, fibres, or not-known."
        ),
    ),
    "one-lot-alone": ProblemKind(
        409,
        gettext_lazy("One dye lot is no choice"),
        gettext_lazy("Name two yarns or more that are to count together."),
    ),
    "no-such-lot": ProblemKind(
        409,
        gettext_lazy("No such dye lot"),
        gettext_lazy("One of the yarns is not in the store of the circle in this colour."),
    ),
    "no-lot-plan": ProblemKind(
        409,
        gettext_lazy("No way to place the dye lots"),
        gettext_lazy(
            "No way was found to keep the dye lots of the “colours” apart as was chosen. Squares "
            "that touch, or that lie in one panel, are of one lot."
        ),
    ),
    "blanket-is-given": ProblemKind(
        409,
        gettext_lazy("The blanket is handed over"),
        gettext_lazy("Nothing is reserved any more for a blanket that is handed over."),
    ),
    "not-so-much-free": ProblemKind(
        409,
        gettext_lazy("Not so much yarn is free"),
        gettext_lazy("“grams” is what can be reserved: the rest is kept for other blankets."),
    ),
    "not-so-much-yarn": ProblemKind(
        409,
        gettext_lazy("Not so much yarn"),
        gettext_lazy("“grams” is what the store, or the member, has of it."),
    ),
    "no-room": ProblemKind(
        409,
        gettext_lazy("No room for more"),
        gettext_lazy("There are as many of “what” as there can be: “most”."),
    ),
    "sheet-not-made": ProblemKind(
        409,
        gettext_lazy("Sheet not made yet"),
        gettext_lazy(
            "The file is there when “status” is “done”; what “failed” can be asked for anew."
        ),
    ),
    "forecast-not-made": ProblemKind(
        409,
        gettext_lazy("No forecast yet"),
        gettext_lazy("Nobody has asked for a forecast of this blanket: a POST does."),
    ),
    "panels-not-made": ProblemKind(
        409,
        gettext_lazy("No proposals yet"),
        gettext_lazy("Nobody has asked for panels with these people and days: a POST does."),
    ),
    "rota-not-made": ProblemKind(
        409,
        gettext_lazy("No rota yet"),
        gettext_lazy("Nobody has asked for a rota of this blanket: a POST does."),
    ),
    "rota-is-newer": ProblemKind(
        409,
        gettext_lazy("The rota has been worked out anew"),
        gettext_lazy("It is not the one that was seen: look at it again, then accept it."),
    ),
    "not-a-knitter": ProblemKind(
        409,
        gettext_lazy("Not among those who knit"),
        gettext_lazy("Only volunteers can have squares planned for them."),
    ),
    "day-is-over": ProblemKind(
        409,
        gettext_lazy("That day is over"),
        gettext_lazy("A square can be planned from today on."),
    ),
    "member-is-away": ProblemKind(
        409,
        gettext_lazy("Away on that day"),
        gettext_lazy("The member has told that they do not knit on the day in question."),
    ),
    "too-large": ProblemKind(
        413,
        gettext_lazy("Body too large"),
        gettext_lazy("A body may have up to one megabyte; the largest plan needs less."),
    ),
    "unsupported-media-type": ProblemKind(
        415, gettext_lazy("Not JSON"), gettext_lazy("Bodies are sent as application/json.")
    ),
    "invalid-plan": ProblemKind(
        422,
        gettext_lazy("The plan cannot be knitted"),
        gettext_lazy("“errors” lists every “field” that is wrong, with the reason in “detail”."),
    ),
    "invalid-input": ProblemKind(
        422,
        gettext_lazy("Something in the call is wrong"),
        gettext_lazy("“errors” lists every “field” that is wrong, with the reason in “detail”."),
    ),
    "idempotency-key-reused": ProblemKind(
        422,
        gettext_lazy("Idempotency-Key used for another call"),
        gettext_lazy("A key belongs to one call with one body; take a new key for another call."),
    ),
    "idempotency-key-spent": ProblemKind(
        422,
        gettext_lazy("Idempotency-Key of earlier days"),
        gettext_lazy("Its first answer is of a time before you left a circle; take a new key."),
    ),
    "too-many-requests": ProblemKind(
        429,
        gettext_lazy("Too many calls"),
        gettext_lazy("The header Retry-After says after how many seconds to go on."),
    ),
    "internal-error": ProblemKind(
        500,
        gettext_lazy("The site has failed"),
        gettext_lazy("The fault is the site’s, and it has been written down."),
    ),
    "database-away": ProblemKind(
        503,
        gettext_lazy("Records out of reach"),
        gettext_lazy("The header Retry-After says after how many seconds to try again."),
    ),
    "files-away": ProblemKind(
        503,
        gettext_lazy("Documents out of reach"),
        gettext_lazy("The header Retry-After says after how many seconds to try again."),
    ),
}


def problem(
    code: str,
    detail: Text,
    headers: Mapping[str, str] | None = None,
    members: Mapping[str, object] | None = None,
) -> JsonResponse:
    """The answer that tells a problem; ``members`` must be JSON. KeyError for an unknown code."""
    kind = PROBLEM_KINDS[code]
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
