"""What the log tells of the yarn store."""

from django.utils.translation import gettext as _


def of_yarn(verb: str, *, own: bool) -> str:
    """What somebody did with the yarn store; ``own``: with nobody else's yarn; else empty."""
    match verb:
        case "yarn-added":
            return _("%(by)s put %(yarn)s into the store: %(grams)s g.")
        case "yarn-changed":
            return _("%(by)s changed what is known of %(yarn)s.")
        case "yarns-imported":
            return _("%(by)s brought a file of yarn: %(added)s new, %(changed)s changed.")
        case "yarn-received":
            return _("%(by)s noted that %(grams)s g of %(yarn)s came in.")
        case "yarn-handed-out":
            return _("%(by)s handed %(grams)s g of %(yarn)s out to %(member)s.")
        case "yarn-returned":
            return _("%(by)s took %(grams)s g of %(yarn)s back from %(member)s.")
        case "yarn-knitted" if own:
            return _("%(by)s noted that %(grams)s g of %(yarn)s are knitted up.")
        case "yarn-knitted":
            return _("%(by)s noted that %(member)s knitted %(grams)s g of %(yarn)s up.")
        case "yarn-counted" if own:
            return _("%(by)s counted %(yarn)s again: %(grams)s g otherwise than in the books.")
        case "yarn-counted":
            return _("%(by)s counted %(member)s’s %(yarn)s again: %(grams)s g otherwise.")
    return ""
