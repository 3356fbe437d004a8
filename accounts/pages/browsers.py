"""What a browser says of itself, for people."""

from django.utils.translation import gettext as _

# The first that is named counts: most also name those whose place they take.
BROWSERS = (
    ("Edg", "Edge"),
    ("OPR/", "Opera"),
    ("SamsungBrowser", "Samsung Internet"),
    ("Firefox", "Firefox"),
    ("FxiOS", "Firefox"),
    ("Chrome", "Chrome"),
    ("CriOS", "Chrome"),
    ("Safari", "Safari"),
)
SYSTEMS = (
    ("iPhone", "iPhone"),
    ("iPad", "iPad"),
    ("Android", "Android"),
    ("Windows", "Windows"),
    ("Mac OS", "Mac"),
    ("CrOS", "ChromeOS"),
    ("Linux", "Linux"),
)


def browser_name(agent: str) -> str:
    """``Firefox, Windows``, or as much of that as is told."""
    found = [
        next((name for sign, name in kinds if sign in agent), "") for kinds in (BROWSERS, SYSTEMS)
    ]
    return ", ".join(filter(None, found)) or _("a browser that does not say what it is")
