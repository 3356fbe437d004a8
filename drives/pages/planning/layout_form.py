"""The form in which a layout is drawn: the grid, and the marks on it."""

from collections.abc import Mapping
from typing import Any

from django import forms
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from accounts.actions.limits import spend_by
from accounts.models import Member
from drives.craft.layout.layout import STITCHES, UNITS_WIDE, InvalidLayout, Layout, Mitre
from drives.craft.layout.plan import Plan, plan
from drives.craft.places import LIMIT
from drives.models import MITRES
from drives.pages.common.fields import GaugeField
from drives.pages.planning.notation import Notation, UnreadableNotation
from drives.words.layout import problem_words
from shared.pages.forms import ActionForm

MOST_UNDONE = 20  # presses that can be taken back
MOST_TOLD = 20  # problems of one layout; who mends these sees the next ones


def brushes() -> list[tuple[int, str]]:
    """What a press on a place does, by the size of the square there."""
    text = _("makes a square %(size)d units wide")
    larger = [(size, text % {"size": size}) for size in UNITS_WIDE[1:]]
    return [(1, _("takes it out, or puts it back")), *larger]


class LayoutForm(ActionForm):
    """A layout. ``layout`` is there once it can be drawn, ``planned`` once it can be knitted."""

    stitches = forms.IntegerField(
        label=gettext_lazy("Stitches along one side"),
        min_value=STITCHES[0],
        max_value=STITCHES[-1],
        help_text=gettext_lazy("Of the smallest square."),
    )
    columns = forms.IntegerField(label=gettext_lazy("Squares across"), min_value=1, max_value=LIMIT)
    rows = forms.IntegerField(label=gettext_lazy("Squares up"), min_value=1, max_value=LIMIT)
    mitre = forms.ChoiceField(
        label=gettext_lazy("Decreases"),
        choices=MITRES,
        widget=forms.RadioSelect,
        help_text=gettext_lazy(
            "In pairs: two stitches together on either side of a marker. "
            "Otherwise: three together, on the middle stitch."
        ),
    )
    corner_trade = forms.BooleanField(
        label=gettext_lazy("Corner trade"),
        required=False,
        help_text=gettext_lazy(
            "One stitch fewer is cast on and one more picked up, so that the edge lies straight. "
            "For paired decreases."
        ),
    )
    missing = forms.CharField(
        label=gettext_lazy("Places taken out"),
        required=False,
        help_text=gettext_lazy("For example: B2 C3"),
    )
    large = forms.CharField(
        label=gettext_lazy("Large squares"),
        required=False,
        help_text=gettext_lazy(
            "For example A1×2: two units wide, with its bottom left corner at A1"
        ),
    )
    seams = forms.CharField(
        label=gettext_lazy("Seams"),
        required=False,
        help_text=gettext_lazy(
            "For example A1–B1: between A1 and B1. A–B is the whole line between these columns, "
            "2–3 the whole line between these rows, A–B:2–5 only the part beside rows 2 to 5."
        ),
    )
    brush = forms.TypedChoiceField(
        label=gettext_lazy("A press on a place"),
        coerce=int,
        choices=brushes,
    )
    past = forms.CharField(required=False, widget=forms.HiddenInput)

    START: dict[str, Any] = {
        "stitches": 20, "columns": 3, "rows": 3, "mitre": Mitre.PAIRED.value, "brush": 1,
        "corner_trade": "on", "missing": "", "large": "", "seams": "", "past": "",
    }  # fmt: skip

    layout: Layout | None = None
    planned: Plan | None = None

    def __init__(self, data: Mapping[str, Any], *, by: Member) -> None:
        """``by`` has it planned, which counts by the size of the grid."""
        super().__init__(data)
        self.by = by

    def clean(self) -> dict[str, Any]:
        """Read the marks, then think the layout through; every problem stands at its field."""
        data: dict[str, Any] = self.cleaned_data
        if self.errors:
            return data
        try:
            notation = Notation.read(data, (data["columns"], data["rows"]))
        except UnreadableNotation as wrong:
            self.add_error(wrong.field, str(wrong))
            return data
        self.layout = Layout(
            columns=data["columns"],
            rows=data["rows"],
            stitches=data["stitches"],
            mitre=Mitre(data["mitre"]),
            missing=notation.missing,
            large=notation.large,
            seams=notation.seams,
            corner_trade=data["corner_trade"],
        )
        spend_by(self.by, "plans", timezone.now(), times=data["columns"] * data["rows"])
        try:
            self.planned = plan(self.layout)
        except InvalidLayout as invalid:
            for problem in invalid.problems[:MOST_TOLD]:
                self.add_error(problem.field, problem_words(problem))
        return data

    @property
    def state(self) -> dict[str, object]:
        """What a link must carry so that this form comes back."""
        return {name: self[name].value() or "" for name in self.fields}


class BlanketForm(ActionForm):
    """What a new blanket needs besides its layout; the gauge as the circle tells it."""

    name = forms.CharField(label=gettext_lazy("Name of the blanket"), max_length=100)
    gauge = GaugeField(
        help_text=gettext_lazy("In garter stitch; the size follows from it."),
    )


def state_of(layout: Layout) -> dict[str, Any]:
    """The form's data for a layout that is there already."""
    return LayoutForm.START | {
        "stitches": layout.stitches,
        "columns": layout.columns,
        "rows": layout.rows,
        "mitre": layout.mitre.value,
        "corner_trade": "on" if layout.corner_trade else "",
        **Notation.of(layout).texts((layout.columns, layout.rows)),
    }


def edited_data(sent: Mapping[str, str]) -> dict[str, Any]:
    """The form's data after the ``press`` or the ``undo`` that is asked for.

    What is not from the form itself (no ``brush``) fills in an untouched one. A press that
    cannot be understood changes nothing.
    """
    data: dict[str, Any] = {name: sent[name] for name in sent if name in LayoutForm.base_fields}
    if "brush" not in data:
        data = LayoutForm.START | data
    past = data.get("past", "").split()
    if "undo" in sent and past:
        word, past = past[-1], past[:-1]
    elif "press" in sent:
        word = sent["press"]
        past = [*past, word][-MOST_UNDONE:]
    else:
        return data
    try:
        grid = (int(data["columns"]), int(data["rows"]))
        notation = Notation.read(data, grid).toggled(word)
    except (KeyError, ValueError):
        return data
    return data | notation.texts(grid) | {"past": " ".join(past)}
