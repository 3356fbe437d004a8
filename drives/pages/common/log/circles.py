"""What the log tells of a circle and its people."""

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import ngettext


def of_circle(verb: str, facts: Mapping[str, Any], *, own: bool) -> str:
    """What somebody did with the circle, with their ``own`` entry or another's; else empty."""
    match verb:
        case "circle-made":
            return _("%(by)s made the circle.")
        case "circle-changed":
            return _("%(by)s changed the settings of the circle.")
        case "circle-closed":
            return _("%(by)s closed the circle.")
        case "circle-reopened":
            return _("The circle is open again, with %(by)s to organise it.")
        case "invited":
            return ngettext(
                "%(by)s made an invitation that is good for %(days)s day.",
                "%(by)s made an invitation that is good for %(days)s days.",
                facts["days"],
            )
        case "invitation-revoked":
            return _("%(by)s revoked an invitation.")
        case "joined":
            return _("%(by)s came into the circle.")
        case "left":
            return _("%(by)s left the circle.")
        case "member-added":
            return _("%(by)s added %(member)s, who has no login.")
        case "member-changed" if own:
            return _("%(by)s changed what the circle knows of them.")
        case "member-changed":
            return _("%(by)s changed what the circle knows of %(member)s.")
        case "member-removed":
            return _("%(by)s took %(member)s out of the circle.")
        case "member-forgotten":
            return _("%(by)s deleted the name of a former member.")
        case "roles-changed" if own:
            return _("%(by)s changed their own roles: %(roles)s.")
        case "roles-changed":
            return _("%(by)s changed %(member)s’s roles: %(roles)s.")
        case "absence-noted" if own:
            return _("%(by)s told of days away.")
        case "absence-noted":
            return _("%(by)s noted days on which %(member)s is away.")
        case "absence-dropped" if own:
            return _("%(by)s is not away after all.")
        case "absence-dropped":
            return _("%(by)s noted that %(member)s is not away after all.")
    return ""
