"""What makers and receivers mind, as usual practice."""

from typing import NamedTuple

from django.utils.translation import gettext_lazy

from drives.craft.receivers.cautions import Caution

from .receivers import source_words

SENTENCES = {
    Caution.AMERICAN_SLEEP: gettext_lazy(
        "The American Academy of Pediatrics advises against blankets and soft bedding where a baby "
        "under one year sleeps: this blanket is for prams, floors, wrapping and watched moments."
    ),
    Caution.BRITISH_SLEEP: gettext_lazy(
        "In a cot, a light blanket is tucked in and comes no higher than the baby’s shoulders, and "
        "the baby’s feet lie at the foot of the cot."
    ),
    Caution.GENERAL_SLEEP: gettext_lazy(
        "Keep loose blankets out of the place where a baby under one year sleeps: this one is for "
        "prams, floors, wrapping and watched moments."
    ),
    Caution.NO_FRINGE: gettext_lazy("No fringe, bows, buttons or long floats."),
    Caution.NO_HOLES: gettext_lazy("No holes that catch a finger or a tube."),
    Caution.NARROW: gettext_lazy("About 36 inches (91 cm) of width keep clear of the wheels."),
    Caution.EXCESS: gettext_lazy("Excess cloth can cause sores, or catch in the wheels."),
    Caution.NO_TIES: gettext_lazy("No ties: they can count as a restraint."),
    Caution.KNOWN_FIBRES: gettext_lazy(
        "Use only yarn whose fibres are known: many receivers refuse wool, or what cannot go into "
        "the washing machine, and some people are allergic to wool or latex."
    ),
    Caution.DARK_DYES: gettext_lazy(
        "Dark reds, black and navy bleed most: soak a swatch before knitting."
    ),
    Caution.REST: gettext_lazy(
        "Picking up into tight edges strains hands and wrists: after half an hour to an hour of "
        "knitting, rest for 5 to 10 minutes."
    ),
    Caution.STOP: gettext_lazy("Stop at pain, tingling or numbness."),
}


class Minded(NamedTuple):
    """One caution in a sentence, and who says so."""

    detail: str
    source: str


def caution_words(*cautions: Caution) -> list[Minded]:
    """All of them, in their order."""
    return [Minded(str(SENTENCES[each]), source_words(each.source)) for each in cautions]
