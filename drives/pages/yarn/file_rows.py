"""A file of yarns, read by the form of a yarn: what is wrong is told with its line and column."""

from collections.abc import Sequence
from typing import Any

from django import forms
from django.utils.datastructures import MultiValueDict
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from accounts.models import Units
from drives.actions.yarn.import_file import YarnRow
from drives.actions.yarn.ledger import MOST_GRAMS
from drives.exports.yarn_file import MOST_BYTES, UnreadableFile, care_in, read_rows
from drives.pages.yarn.form import YarnForm
from shared.pages.forms import ActionForm

MOST_TOLD = 30  # things that are wrong, told at once
FIELDS = {
    "colour": "colour",
    "looks": "value",
    "dye lot": "dye_lot",
    "category": "category",
    "fibres": "fibres",
    "metres in 100 g": "metres_per_100_grams",
    "ball grams": "ball_grams",
    "ball price": "price",
    "colour-fast": "fast",
    "swatch stitches": "swatch_stitches",
    "swatch rows": "swatch_rows",
    "swatch grams": "swatch_grams",
    "given by": "given_by",
    "where": "place",
    "grams": "grams",
}
"""The column of the file for each field of the form; ``care`` is all of its treatments."""


class RowForm(YarnForm):
    """One row; always in grams and metres."""

    not_chosen = ""
    grams = forms.IntegerField(min_value=0, max_value=MOST_GRAMS)

    def __init__(self, row: dict[str, str]) -> None:
        sent = {FIELDS[name]: cell for name, cell in row.items() if name in FIELDS}
        sent["agreed"] = "yes" if row.get("given by") else ""  # the column is for those who did
        self.care_told = row.get("care", "")
        super().__init__(
            MultiValueDict({name: [cell] for name, cell in sent.items()}), units=Units.CM
        )
        self.fields["grams"].required = "grams" in row
        self.columns = frozenset(row)
        self.fields["category"].error_messages["invalid_choice"] = _("Write a number from 0 to 7.")
        self.fields["fast"].error_messages["invalid_choice"] = _("Write yes, no, or nothing.")

    def clean(self) -> dict[str, Any]:
        told = super().clean()
        try:
            told |= care_in(self.care_told)
        except ValueError as wrong:
            self.add_error("wash", str(wrong))
        return told

    def problems(self) -> list[str]:
        """Each with the column in which it stands."""
        titles = {field: column for column, field in FIELDS.items()}
        return [
            f"{titles.get(field, 'care')}: {error}"
            for field, errors in self.errors.items()
            for error in errors
        ]

    def row(self) -> YarnRow:
        """What a valid row tells."""
        told = {FIELDS[name] for name in self.columns & FIELDS.keys()}
        told |= {"care"} & self.columns
        if any(name.startswith("swatch") for name in told):
            told.add("swatch")
        settings = self.settings()
        return YarnRow(settings, frozenset(told & settings.keys()), self.cleaned_data["grams"])


class FileForm(ActionForm):
    """The file; a valid form has its ``rows``."""

    file = forms.FileField(label=gettext_lazy("CSV file"))

    rows: Sequence[YarnRow] = ()

    def clean_file(self) -> Any:
        sent = self.cleaned_data["file"]
        if sent.size > MOST_BYTES:
            raise forms.ValidationError(_("That is more than a list of yarns can be."))
        rows, wrong = _read(sent.read())
        if len(wrong) > MOST_TOLD:
            more = _("And %(count)d more.") % {"count": len(wrong) - MOST_TOLD}
            wrong = [*wrong[:MOST_TOLD], more]
        if wrong:
            raise forms.ValidationError(wrong)
        self.rows = rows
        return sent


def _read(sent: bytes) -> tuple[list[YarnRow], list[str]]:
    rows: list[YarnRow] = []
    wrong: list[str] = []
    lines: dict[tuple[str, str], int] = {}
    try:
        for number, cells in read_rows(sent):
            form = RowForm(cells)
            if not form.is_valid():
                wrong += [
                    _("Line %(line)d, %(what)s") % {"line": number, "what": each}
                    for each in form.problems()
                ]
                continue
            row = form.row()
            key = (row.settings["colour"].casefold(), row.settings["dye_lot"].casefold())
            first = lines.setdefault(key, number)
            if first != number:
                told = {"line": number, "first": first}
                wrong.append(_("Line %(line)d tells the same yarn as line %(first)d.") % told)
            rows.append(row)
    except UnreadableFile as unreadable:
        return [], [str(unreadable)]
    if not rows and not wrong:
        wrong.append(_("There is no yarn in the file."))
    return rows, wrong
