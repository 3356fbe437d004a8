"""How something is cared for: one sentence for each treatment."""

from django.utils.translation import gettext_lazy

from drives.craft.fibre.care import Care
from drives.craft.fibre.treatments import (
    Bleach,
    DryClean,
    Iron,
    Natural,
    Treatment,
    Tumble,
    Wash,
    WetClean,
)

HEADINGS = {
    "wash": gettext_lazy("Washing"),
    "bleach": gettext_lazy("Bleaching"),
    "tumble": gettext_lazy("Tumble drying"),
    "natural": gettext_lazy("Drying in the air"),
    "iron": gettext_lazy("Ironing"),
    "dry_clean": gettext_lazy("Dry cleaning"),
    "wet_clean": gettext_lazy("Wet cleaning"),
}
"""By the fields of ``Care``."""

SENTENCES = {
    Wash.NOT: gettext_lazy("Do not wash."),
    Wash.HAND_AMBIENT: gettext_lazy("Wash by hand in water that is not warmed."),
    Wash.HAND: gettext_lazy("Wash by hand, at 40 °C at most."),
    Wash.MACHINE_30_VERY_MILD: gettext_lazy(
        "Wash in the machine at 30 °C at most, on a very mild cycle."
    ),
    Wash.MACHINE_30_MILD: gettext_lazy("Wash in the machine at 30 °C at most, on a mild cycle."),
    Wash.MACHINE_30: gettext_lazy("Wash in the machine at 30 °C at most."),
    Wash.MACHINE_40_VERY_MILD: gettext_lazy(
        "Wash in the machine at 40 °C at most, on a very mild cycle."
    ),
    Wash.MACHINE_40_MILD: gettext_lazy("Wash in the machine at 40 °C at most, on a mild cycle."),
    Wash.MACHINE_40: gettext_lazy("Wash in the machine at 40 °C at most."),
    Wash.MACHINE_50_MILD: gettext_lazy("Wash in the machine at 50 °C at most, on a mild cycle."),
    Wash.MACHINE_50: gettext_lazy("Wash in the machine at 50 °C at most."),
    Wash.MACHINE_60_MILD: gettext_lazy("Wash in the machine at 60 °C at most, on a mild cycle."),
    Wash.MACHINE_60: gettext_lazy("Wash in the machine at 60 °C at most."),
    Wash.MACHINE_70: gettext_lazy("Wash in the machine at 70 °C at most."),
    Wash.MACHINE_95: gettext_lazy("Wash in the machine at 95 °C at most."),
    Bleach.NOT: gettext_lazy("Do not bleach."),
    Bleach.OXYGEN: gettext_lazy("Bleach with oxygen only, never with chlorine."),
    Bleach.ANY: gettext_lazy("Any bleach may be used."),
    Tumble.NOT: gettext_lazy("Do not tumble dry."),
    Tumble.LOW: gettext_lazy("Tumble dry at low heat."),
    Tumble.NORMAL: gettext_lazy("Tumble dry at normal heat."),
    Natural.DRIP_FLAT_SHADE: gettext_lazy("Dry flat in the shade, dripping wet."),
    Natural.DRIP_FLAT: gettext_lazy("Dry flat, dripping wet."),
    Natural.FLAT_SHADE: gettext_lazy("Dry flat in the shade."),
    Natural.FLAT: gettext_lazy("Dry flat."),
    Natural.DRIP_LINE_SHADE: gettext_lazy("Dry on a line in the shade, dripping wet."),
    Natural.DRIP_LINE: gettext_lazy("Dry on a line, dripping wet."),
    Natural.LINE_SHADE: gettext_lazy("Dry on a line in the shade."),
    Natural.LINE: gettext_lazy("Dry on a line."),
    Iron.NOT: gettext_lazy("Do not iron."),
    Iron.LOW: gettext_lazy("Iron at low heat, without steam."),
    Iron.MEDIUM_DRY: gettext_lazy("Iron at medium heat, without steam."),
    Iron.MEDIUM: gettext_lazy("Iron at medium heat."),
    Iron.HIGH_DRY: gettext_lazy("Iron at high heat, without steam."),
    Iron.HIGH: gettext_lazy("Iron at high heat."),
    DryClean.NOT: gettext_lazy("Do not dry clean."),
    DryClean.F_MILD: gettext_lazy("Professional dry cleaning F (hydrocarbons), mild process."),
    DryClean.F: gettext_lazy("Professional dry cleaning F (hydrocarbons)."),
    DryClean.P_MILD: gettext_lazy("Professional dry cleaning P, mild process."),
    DryClean.P: gettext_lazy("Professional dry cleaning P."),
    WetClean.NOT: gettext_lazy("Do not wet clean."),
    WetClean.VERY_MILD: gettext_lazy("Professional wet cleaning W, very mild process."),
    WetClean.MILD: gettext_lazy("Professional wet cleaning W, mild process."),
    WetClean.NORMAL: gettext_lazy("Professional wet cleaning W."),
}


def treatment_words(treatment: Treatment) -> str:
    return str(SENTENCES[treatment])


def care_lines(care: Care) -> list[str]:
    """One sentence for each treatment that was told, in the order of the standard."""
    return [treatment_words(each) for each in care if each is not None]


def choices(kind: type[Treatment]) -> list[tuple[str, str]]:
    """Every treatment of one kind, by its name, for a form."""
    return [(each.name, treatment_words(each)) for each in kind]
