"""The palette of a blanket and the rules of its colour plan, as an organiser tells them."""

from collections.abc import Mapping
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy

from drives.craft.colours.palette import MOST_COLOURS, PaletteFault, palette_faults
from drives.craft.colours.wish import Pattern
from drives.drawing.colours import UNNAMED
from drives.models import PATTERNS
from drives.pages.common.fields import LooksField, looks
from drives.readings.colour_plans import ColoursWanted, PaletteColour
from drives.readings.stock import Stock
from drives.words.colours import fault_words
from shared.pages.forms import ActionForm

PREFIX = "colours"


class PaletteColourForm(forms.Form):
    """One colour: of the store, or brought along (``own``)."""

    name = forms.CharField(label=gettext_lazy("Colour"), max_length=40)
    value = LooksField()
    own = forms.BooleanField(required=False, widget=forms.HiddenInput)
    at_most = forms.IntegerField(
        label=gettext_lazy("Squares at most"), required=False, min_value=1, max_value=30_000
    )

    def __init__(self, *args: Any, stocks: Mapping[str, Stock], **kwargs: Any) -> None:
        # A row that is left empty is one without a name, and not no row.
        super().__init__(*args, **{**kwargs, "empty_permitted": False})
        self.stocks = stocks
        if not self["own"].value():
            for field in ("name", "value"):
                self.fields[field].widget = forms.HiddenInput()

    @property
    def hue(self) -> PaletteColour:
        data = self.cleaned_data
        return PaletteColour(
            data["name"], looks(data["name"], data["value"]), data["own"], data["at_most"]
        )


class BasePalette(forms.BaseFormSet):  # type: ignore[type-arg]  # no generic at run time
    """The colours in the order of the pattern."""

    def clean(self) -> None:
        """A colour of the store must be there still, and no other may be called like one."""
        told = [
            (form.cleaned_data.get("name", ""), form.cleaned_data.get("own", False))
            for form in self.forms
        ]
        stocks = self.forms[0].stocks if self.forms else {}
        for number, fault in palette_faults(told, stocks).items():
            # The name of a colour of the store is not shown as a field.
            field = None if fault is PaletteFault.NOT_IN_STORE else "name"
            self.forms[number].add_error(field, fault_words(fault, told[number][0]))


PaletteForms = forms.formset_factory(
    PaletteColourForm,
    formset=BasePalette,
    extra=0,
    max_num=MOST_COLOURS,
    absolute_max=MOST_COLOURS,
    validate_max=True,
)


class WishForm(ActionForm):
    """How the colours lie, and what a plan has to mind; of ``seams`` only where there are some."""

    pattern = forms.ChoiceField(
        label=gettext_lazy("Pattern"), choices=PATTERNS, widget=forms.RadioSelect
    )
    apart = forms.BooleanField(
        label=gettext_lazy("No two squares of one colour side by side"), required=False
    )
    over_seams = forms.BooleanField(
        label=gettext_lazy("Nor two with a seam between them"), required=False
    )
    margin = forms.IntegerField(
        label=gettext_lazy("Yarn kept in reserve, per cent"),
        min_value=0,
        max_value=100,
        help_text=gettext_lazy("So much more than the squares take must be there of each."),
    )

    def __init__(self, sent: Any, *, seams: bool) -> None:
        super().__init__(sent)
        if not seams:
            del self.fields["over_seams"]


def form_data(asked: ColoursWanted) -> dict[str, Any]:
    """The forms' data for what is wanted already."""
    rows: list[dict[str, Any]] = [
        {
            "name": hue.name,
            "value": hue.value,
            "own": "on" if hue.own else "",
            "at_most": hue.at_most or "",
        }
        for hue in asked.palette
    ]
    rules = {name: "on" for name in ("apart", "over_seams") if getattr(asked, name)}
    return _data(rows) | {"pattern": asked.pattern.value, "margin": asked.margin} | rules


def edited_data(sent: Mapping[str, str], stocks: Mapping[str, Stock]) -> dict[str, Any]:
    """The forms' data after the press of a button that adds, moves or leaves out a colour."""
    rows = _rows(sent)
    do, _colon, what = sent.get("do", "").partition(":")
    known = what.isdecimal() and len(what) <= 4 and int(what) < len(rows)
    at = int(what) if known else None
    if do == "add" and what in stocks:
        rows.append({"name": what, "value": stocks[what].yarns[0].value, "own": "", "at_most": ""})
    elif do == "own":
        rows.append({"name": "", "value": UNNAMED, "own": "on", "at_most": ""})
    elif do == "up" and at:
        rows[at - 1 : at + 1] = rows[at], rows[at - 1]
    elif do == "drop" and at is not None:
        del rows[at]
    rest = {
        name: sent[name] for name in ("pattern", "apart", "over_seams", "margin") if name in sent
    }
    return _data(rows[:MOST_COLOURS]) | rest


def colours_asked(hues: "forms.BaseFormSet[PaletteColourForm]", wish: WishForm) -> ColoursWanted:
    """What valid forms tell."""
    data = wish.cleaned_data
    return ColoursWanted(
        tuple(form.hue for form in hues.forms),
        Pattern(data["pattern"]),
        data["apart"],
        data["margin"],
        data.get("over_seams", True),
    )


def _rows(sent: Mapping[str, str]) -> list[dict[str, Any]]:
    count = sent.get(f"{PREFIX}-TOTAL_FORMS", "0")
    fields = PaletteColourForm.base_fields
    return [
        {field: sent.get(f"{PREFIX}-{row}-{field}", "") for field in fields}
        for row in range(min(int(count[:4]), MOST_COLOURS) if count.isdecimal() else 0)
    ]


def _data(rows: list[dict[str, Any]]) -> dict[str, Any]:
    cells = {
        f"{PREFIX}-{row}-{field}": value
        for row, values in enumerate(rows)
        for field, value in values.items()
    }
    return {f"{PREFIX}-TOTAL_FORMS": len(rows), f"{PREFIX}-INITIAL_FORMS": 0} | cells
