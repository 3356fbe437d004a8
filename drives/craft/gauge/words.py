"""What is said of a gauge that was measured: what it is, what comes of it, what to do."""

from .needles import needle
from .tension import TOLERANCE, Compared, Tension, per_cent

# All common practice.
_STAYS = {
    Tension.TIGHT: "Beside the others they draw in: the blanket puckers along their joins. If all"
    " were like them, it would come out smaller and take less yarn.",
    Tension.LOOSE: "Beside the others they are too large: they ripple along their joins. If all"
    " were like them, the blanket would come out larger and take more yarn.",
}


def found_line(compared: Compared) -> str:
    """How far off the gauge is, in per cent of a side."""
    off = compared.off
    if compared.tension is Tension.EVEN:
        return f"Within {per_cent(TOLERANCE)} this is the planned gauge."
    size = "smaller" if off < 0 else "larger"
    return f"Knitted so {compared.tension}, squares come out {per_cent(off)} {size} than planned."


def stays_line(compared: Compared) -> str:
    """What becomes of the blanket if the gauge stays as it is."""
    return _STAYS.get(compared.tension, "Such squares join flat.")


def advice_line(compared: Compared, mm: float | None) -> str:
    """Which needle to try after one of ``mm``; None where nobody has told it."""
    tension = compared.tension
    if tension is Tension.EVEN:
        return "Keep this needle."
    size = "larger" if tension is Tension.TIGHT else "smaller"
    if mm is None:
        advice = f"Try a {size} needle."
    elif tried := compared.next_needle(mm):
        advice = f"Try {tried.words} instead of {needle(mm).words}."
    else:
        advice = f"No usual needle is {size} than {needle(mm).words}: another yarn fits this plan."
    if not compared.far:
        return advice
    return f"So much is seldom the hand alone: is it the planned yarn, counted aright? {advice}"
