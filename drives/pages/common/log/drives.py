"""What the log tells of drives."""

from django.utils.translation import gettext as _


def of_drive(verb: str, *, confirmed: bool) -> str:
    """What somebody did with the drive, its meetings, its papers or its rules; else empty.

    ``confirmed``: somebody told the rules.
    """
    match verb:
        case "drive-made":
            return _("%(by)s made the drive.")
        case "drive-changed":
            return _("%(by)s changed the settings of the drive.")
        case "meeting-planned":
            return _("%(by)s noted that there is a meeting on %(day)s.")
        case "meeting-dropped":
            return _("%(by)s noted that there is no meeting on %(day)s after all.")
        case "sheet-requested":
            return _("%(by)s had a document made of %(blanket)s: %(document)s.")
        case "rules-noted" if confirmed:
            return _("%(by)s wrote the rules down as %(told_by)s told them on %(told_on)s.")
        case "rules-noted":
            return _("%(by)s wrote rules down that nobody has confirmed yet.")
        case "overruled":
            return _("%(by)s overruled: “%(conflict)s” (%(of)s). The reason: %(reason)s")
        case "upheld":
            return _("%(by)s let it count again: “%(conflict)s” (%(of)s).")
    return ""
