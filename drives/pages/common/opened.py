"""Where one is led who has asked for a document."""

from django.http import HttpResponseRedirect
from django.shortcuts import redirect

from drives.models import Sheet, Status


def opened(sheet: Sheet) -> HttpResponseRedirect:
    """To the file if it is there, else to where one can watch it being made."""
    return redirect(
        "drives:sheet_file" if sheet.status == Status.DONE else "drives:sheet", sheet.pk
    )
