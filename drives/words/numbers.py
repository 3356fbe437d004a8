"""Shares, said."""

from django.utils.translation import gettext as _


def per_cent(share: float) -> str:
    """A share in whole per cent; what is not quite nothing, or all, is not told as such."""
    if 0 < share < 0.01:
        return _("less than 1\u00a0%")
    if 0.99 < share < 1:
        return _("more than 99\u00a0%")
    return _("%(number)d\u00a0%%") % {"number": round(share * 100)}
