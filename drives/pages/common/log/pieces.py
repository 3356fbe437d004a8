"""What the log tells of pieces."""

from django.utils.translation import gettext as _


def of_piece(verb: str, *, own: bool) -> str:
    """What somebody did with a piece; else empty."""
    match verb:
        case "asked-for-piece" if own:
            return _("%(by)s asked for piece %(piece)s.")
        case "asked-for-piece":
            return _("%(by)s put %(member)s in line for piece %(piece)s.")
        case "left-the-line" if own:
            return _("%(by)s no longer waits for piece %(piece)s.")
        case "left-the-line":
            return _("%(by)s took %(member)s out of the line for piece %(piece)s.")
        case "hand-over-arranged":
            return _("%(by)s arranged that piece %(piece)s goes to %(to)s.")
        case "hand-over-sent":
            return _("%(by)s: piece %(piece)s is on its way to %(to)s.")
        case "hand-over-received":
            return _("%(by)s: piece %(piece)s is with %(to)s.")
        case "hand-over-cancelled":
            return _("%(by)s cancelled the hand-over of piece %(piece)s to %(to)s.")
        case "piece-found":
            return _("%(by)s noted that piece %(piece)s is with %(member)s.")
        case "piece-lost":
            return _("%(by)s noted that piece %(piece)s is lost: %(squares)s must be knitted anew.")
    return ""
