"""Names of people and circles. They stand in e-mails to people who have asked for none."""

import re

from django.utils.translation import gettext as _

from shared.basics.refusals import Refused

# A line end, or another sign that moves what comes after it, also from right to left.
UNSEEN = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069]")
# What mail programs make a link of: a scheme, or words with a full stop and no space between them.
ADDRESS = re.compile(r"://|\bwww\.|\w\.[^\W\d_]{2,}", re.IGNORECASE)


def require_plain(name: str) -> None:
    """Refused (name-not-plain) if the name could pass for more than a name in a letter."""
    if UNSEEN.search(name):
        raise Refused("name-not-plain", _("A name is a single line, without control characters."))
    if ADDRESS.search(name):
        raise Refused(
            "name-not-plain",
            _("A name cannot hold a web address. After a full stop, put a space."),
        )
