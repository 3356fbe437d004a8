"""What a form asks about a yarn, in the units of its circle; a file of yarns is read by it too."""

from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from drives.actions.yarn.store import MOST_IN_A_BALL, YarnSettings
from drives.craft.fibre.care import TREATMENTS
from drives.craft.yarn.weighing import Swatch
from drives.drawing.colours import UNNAMED, yarn_colour
from drives.models import Yarn
from drives.pages.common.fibre_fields import FibresField, ask_for_care, care_told
from drives.pages.common.fields import LooksField, MeasureForm, WeightField, YarnLengthField
from drives.pages.yarn.amounts import AmountField
from drives.words.fibres import fibres_line
from drives.words.yarn import category_choices
from shared.pages.forms import FieldGroup, YesNoField

FAST = {
    None: gettext_lazy("Never tried"),
    True: gettext_lazy("Tried: its dye stays in"),
    False: gettext_lazy("Tried: its dye runs"),
}


class YarnForm(MeasureForm):
    """Everything but the grams, which the ledger alone changes."""

    not_chosen = UNNAMED

    colour = forms.CharField(
        label=gettext_lazy("Colour"),
        max_length=40,
        help_text=gettext_lazy("Its name, as on the band. Blankets find their yarn by it."),
    )
    value = LooksField(
        required=False,
        help_text=gettext_lazy("Left grey, it is drawn as its name says: navy, rose, moss …"),
    )
    dye_lot = forms.CharField(
        max_length=40,
        label=gettext_lazy("Dye lot"),
        required=False,
        help_text=gettext_lazy("From the band. Each dye lot is a yarn of its own."),
    )
    category = forms.TypedChoiceField(
        label=gettext_lazy("Yarn weight category"),
        choices=lambda: [("", _("Not known")), *category_choices()],
        required=False,
        coerce=int,
        empty_value=None,
    )
    fibres = FibresField(
        max_length=300,
        help_text=gettext_lazy(
            "As on the band: “80 % acrylic, 20 % wool”. Empty: not known. Do not guess."
        ),
    )
    metres_per_100_grams = YarnLengthField(
        (gettext_lazy("Metres in 100 g"), gettext_lazy("Yards in 100 g (3½ oz)")),
        min_value=1,
        max_value=5000,
        required=False,
    )
    ball_grams = AmountField(
        (gettext_lazy("Grams in a ball"), gettext_lazy("Ounces in a ball")),
        least=1,
        most=MOST_IN_A_BALL,
        required=False,
        help_text=gettext_lazy("What is short is then told in balls."),
    )
    price = forms.DecimalField(
        label=gettext_lazy("Price of a ball"),
        min_value=0,
        max_digits=8,
        decimal_places=2,
        required=False,
        help_text=gettext_lazy("In the currency of the circle."),
    )
    fast = YesNoField(
        FAST,
        label=gettext_lazy("Colour-fast"),
        help_text=gettext_lazy("Soak a swatch on a white cloth for an hour."),
    )
    swatch_stitches = forms.IntegerField(
        label=gettext_lazy("Stitches in it"), min_value=1, max_value=1000, required=False
    )
    swatch_rows = forms.IntegerField(
        label=gettext_lazy("Rows in it"),
        min_value=1,
        max_value=1000,
        required=False,
        help_text=gettext_lazy("A ridge is two rows."),
    )
    swatch_grams = WeightField(
        (gettext_lazy("Its weight in grams"), gettext_lazy("Its weight in ounces")),
        min_value=0,
        max_digits=7,
        decimal_places=3,
        required=False,
    )
    given_by = forms.CharField(
        max_length=100,
        label=gettext_lazy("Given by"),
        required=False,
        help_text=gettext_lazy("Only if they agreed that all members see it; else leave it empty."),
    )
    agreed = forms.BooleanField(label=gettext_lazy("They agreed"), required=False)
    place = forms.CharField(max_length=100, label=gettext_lazy("Where it is"), required=False)

    def __init__(self, sent: Any, *, units: str, initial: dict[str, Any] | None = None) -> None:
        super().__init__(sent, units=units, initial={"value": UNNAMED} | (initial or {}))
        ask_for_care(self, unknown=_("Not told"))

    @property
    def parts(self) -> list[FieldGroup]:
        """Its fields as a page groups them."""
        what = (
            *("colour", "value", "dye_lot", "grams", "category", "fibres"),
            *("metres_per_100_grams", "ball_grams", "price"),
        )
        return self.grouped(
            (_("What it is"), what),
            (_("How it is cared for"), ("fast", *TREATMENTS)),
            (_("A weighed swatch"), ("swatch_stitches", "swatch_rows", "swatch_grams")),
            (_("Where it comes from, and where it is"), ("given_by", "agreed", "place")),
        )

    def clean(self) -> dict[str, Any]:
        told = self.cleaned_data
        for name in ("colour", "dye_lot", "given_by", "place"):
            told[name] = " ".join(told.get(name, "").split())
        if told["colour"] and told.get("value", "") in ("", self.not_chosen):
            told["value"] = yarn_colour(told["colour"])
            if told["value"] is None:
                self.add_error("value", _("No usual one is called so; choose how it looks."))
        if told["given_by"] and not told.get("agreed"):
            self.add_error("agreed", _("Without their consent, leave the name out."))
        swatch = [told.get(f"swatch_{name}") for name in ("stitches", "rows", "grams")]
        if any(swatch) and not all(swatch):
            sentence = _("A swatch is told by its stitches, its rows and its weight together.")
            self.add_error("swatch_grams", sentence)
        return told

    def settings(self) -> YarnSettings:
        """What a valid form tells."""
        told = self.cleaned_data
        swatch = (told["swatch_stitches"], told["swatch_rows"], told["swatch_grams"])
        return YarnSettings(
            colour=told["colour"],
            value=told["value"],
            dye_lot=told["dye_lot"],
            category=told["category"],
            fibres=told["fibres"],
            metres_per_100_grams=told["metres_per_100_grams"],
            ball_grams=told["ball_grams"],
            price=told["price"],
            care=care_told(told),
            fast=told["fast"],
            swatch=Swatch(swatch[0], swatch[1], float(swatch[2])) if all(swatch) else None,
            given_by=told["given_by"],
            place=told["place"],
        )


class NewYarnForm(YarnForm):
    """A yarn with its first grams."""

    grams = AmountField(least=0)
    field_order = ("colour", "value", "dye_lot", "grams")


def form_data(yarn: Yarn) -> dict[str, Any]:
    """The yarn as its form shows it."""
    return {
        "colour": yarn.colour,
        "value": yarn.value,
        "dye_lot": yarn.dye_lot,
        "category": yarn.category,
        "fibres": "" if yarn.fibres is None else fibres_line(yarn.told_fibres),
        "metres_per_100_grams": yarn.metres_per_100_grams,
        "ball_grams": yarn.ball_grams,
        "price": yarn.price,
        "fast": yarn.fast,
        "swatch_stitches": yarn.swatch_stitches,
        "swatch_rows": yarn.swatch_rows,
        "swatch_grams": yarn.swatch_grams,
        "given_by": yarn.given_by,
        "agreed": bool(yarn.given_by),
        "place": yarn.place,
        **yarn.care,
    }
