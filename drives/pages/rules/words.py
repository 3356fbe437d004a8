"""The receiver's rules in words."""

from collections.abc import Callable, Iterable, Mapping
from math import isclose
from typing import NamedTuple

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from drives import measures
from drives.craft.fibre.fibres import Fibre
from drives.craft.receivers.rules import Rules
from drives.craft.receivers.typical import TEMPLATES, ReceiverKind
from drives.models import Drive, Receiver
from drives.readings.checks import rules_of
from drives.words.fibres import fibre_name
from drives.words.receivers import kind_words, source_words

SIZE_QUESTIONS = {
    "shorter_from": gettext_lazy("Shorter side, at least"),
    "shorter_to": gettext_lazy("Shorter side, at most"),
    "longer_from": gettext_lazy("Longer side, at least"),
    "longer_to": gettext_lazy("Longer side, at most"),
}
FIBRE_QUESTIONS = {
    "wanted": gettext_lazy("Fibres wanted, and no others"),
    "refused": gettext_lazy("Fibres refused"),
}
ANIMAL = {
    "animal": gettext_lazy("Do they take fibres from animals (wool, other hair, silk)?"),
}
TEMPERATURE = gettext_lazy("Washed at")
WASHING = {
    "machine_wash": gettext_lazy("Do they wash it in the machine?"),
    "mild": gettext_lazy("Do they wash it on a mild cycle?"),
    "tumble": gettext_lazy("Do they tumble dry it?"),
    "washed": gettext_lazy("Should it be washed before it is given?"),
}
QUESTIONS = {
    "fringe": gettext_lazy("May it have a fringe?"),
    "holes": gettext_lazy("May it have holes?"),
    "smoke_free": gettext_lazy("Must it come from homes without smoke?"),
    "pet_free": gettext_lazy("Must it be free from pet hair?"),
    "label": gettext_lazy("Do they want a label with fibres and care?"),
    "for_babies": gettext_lazy("Is it for babies?"),
    "for_wheelchairs": gettext_lazy("Is it for people in wheelchairs?"),
}


class RuleInWords(NamedTuple):
    """One rule in words; ``source``: who says that it is typical, where nobody confirmed it."""

    question: str
    answer: str
    source: str = ""


def rules_in_words(drive: Drive, rules: Rules, receiver: Receiver | None) -> list[RuleInWords]:
    """Every rule that was told, or is typical."""
    sources = typical_sources(receiver)
    return [
        RuleInWords(question, answer, source_words(sources.get(name, "")))
        for name, question, answer in _answers(drive, rules)
        if answer
    ]


def asked_of_yarn(drive: Drive) -> list[RuleInWords]:
    """What whoever brings yarn of their own has to know; of yarns in the store checks tell."""
    names = {*FIBRE_QUESTIONS, *ANIMAL, "machine_wash", "temperature", "mild", "tumble"}
    answers = _answers(drive, rules_of(drive))
    return [RuleInWords(ask, answer) for name, ask, answer in answers if answer and name in names]


def typical_sources(receiver: Receiver | None) -> Mapping[str, str]:
    """By rule, who says what is typical, as far as unconfirmed rules are still the typical ones."""
    if receiver is None or receiver.confirmed or not receiver.kind:
        return {}
    template = TEMPLATES[ReceiverKind(receiver.kind)]
    rules = receiver.rules
    return {
        name: source
        for name, source in template.sources.items()
        if _same(getattr(rules, name), getattr(template.rules, name))
    }


def _same(told: object, typical: object) -> bool:
    """Lengths as far as a form shows them."""
    if isinstance(told, int | float) and isinstance(typical, float):
        return isclose(told, typical, abs_tol=0.15)
    return told == typical


def kinds() -> list[tuple[str, str]]:
    """What one can begin with."""
    return [(kind.value, kind_words(kind)) for kind in ReceiverKind]


def fibres(found: Iterable[Fibre]) -> str:
    return ", ".join(fibre_name(fibre) for fibre in sorted(found))


def _answers(drive: Drive, rules: Rules) -> list[tuple[str, str, str]]:
    units = drive.circle.units

    def size(cm: float | None) -> str:
        return "" if cm is None else measures.fine(float(cm), units)

    def names(found: frozenset[Fibre] | None) -> str:
        return fibres(found or ())

    def degrees(found: int | None) -> str:
        return "" if found is None else f"{found} °C"

    def rows(
        questions: Mapping[str, object], say: Callable[..., str]
    ) -> list[tuple[str, str, str]]:
        return [(name, str(ask), say(getattr(rules, name))) for name, ask in questions.items()]

    return [
        *rows(SIZE_QUESTIONS, size),
        *rows(FIBRE_QUESTIONS, names),
        *rows(ANIMAL, yes_or_no),
        *rows(WASHING, yes_or_no),
        *rows({"temperature": TEMPERATURE}, degrees),
        *rows(QUESTIONS, yes_or_no),
    ]


def yes_or_no(answer: bool | None) -> str:
    """Empty where nobody told."""
    return {None: "", True: _("yes"), False: _("no")}[answer]
