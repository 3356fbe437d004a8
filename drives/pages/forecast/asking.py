"""What is worked out for a page of this room, and is asked for there by one press."""

from collections.abc import Mapping

from django.utils.translation import gettext_lazy

from drives.models import Sheet
from drives.pages.common.waiting import Sentences, Waiting

SAID = Sentences(
    making=gettext_lazy("The plan is played through again and again."),
    then=gettext_lazy("The answer shows by itself as soon as it is there."),
    failed=gettext_lazy("This could not be worked out."),
    mend=gettext_lazy("If trying again does not help, tell whoever looks after the site."),
    ask=gettext_lazy("This has not been worked out yet for the blanket as it stands now."),
    press=gettext_lazy("Work it out"),
)


def waiting_for(
    sheet: Sheet | None, address: str, press: str, sent: Mapping[str, str] | None = None
) -> Waiting:
    """``address`` is the page's own, which shows the answer; ``press`` takes what is ``sent``."""
    mark = "&" if "?" in address else "?"
    again = f"{address}{mark}sheet={sheet.pk}" if sheet else address
    return Waiting(sheet=sheet, said=SAID, again=again, done=address, press=press, sent=sent or {})
