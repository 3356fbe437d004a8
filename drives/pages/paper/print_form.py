"""What may be chosen about printed documents, and what each is good for."""

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, NamedTuple

from django import forms
from django.forms.boundfield import BoundField
from django.http import HttpRequest
from django.utils.formats import date_format
from django.utils.functional import Promise
from django.utils.timezone import localdate
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from accounts.models import English, Hand
from drives.actions.paper.documents import MOST_CARDS, USES
from drives.models import PRINTED, Blanket, Ink, Kind, Meeting, Options, Paper, Piece, Print
from drives.words.places import place_named
from shared.forms import ActionForm

REMEMBERED = ("paper", "ink", "print")
SESSION = "on-paper"

PURPOSES: dict[str, str | Promise] = {
    Kind.CARDS: gettext_lazy(
        "For who knits from paper: the first stitches, the rows, a box to tick for each ridge, "
        "the due date, and a code that leads back here."
    ),
    Kind.LABEL: gettext_lazy("For the bag of a piece, with what a finder should do."),
    Kind.STATUS: gettext_lazy(
        "For the wall: the map, who has what, what comes next, and room to write."
    ),
    Kind.WALL: gettext_lazy("A large map to be coloured in by hand as squares are finished."),
    Kind.MEETING: gettext_lazy(
        "Who comes with what, what goes to whom, and what each could begin next."
    ),
    Kind.SET: gettext_lazy(
        "Status sheet, meeting list, wall map, a card of every square that is in hand or can be "
        "begun, and a label for every piece, as one file."
    ),
    Kind.FINISHING: gettext_lazy(
        "What is done when all squares are: ends, markers, washing, measuring, signatures."
    ),
    Kind.GIFT: gettext_lazy("For who receives it: its size, its fibres, how to care for it."),
}
"""What each is good for; cards first, because the key Enter presses the first button."""


class MeetingField(forms.ModelChoiceField):  # type: ignore[type-arg]  # only typed
    """The meetings by their days."""

    def label_from_instance(self, obj: Any) -> str:
        return date_format(obj.day, "l, j F Y")


class PrintForm(ActionForm):
    """One form for all documents: the button says which; what is not sent is as last time."""

    use_required_attribute = False  # what one document needs must not hold another one up

    kind = forms.ChoiceField(choices=[(kind.value, kind.label) for kind in map(Kind, PRINTED)])
    paper = forms.ChoiceField(
        label=gettext_lazy("Paper"), choices=Paper.choices, widget=forms.RadioSelect
    )
    ink = forms.ChoiceField(
        label=gettext_lazy("Printer"), choices=Ink.choices, widget=forms.RadioSelect
    )
    print = forms.ChoiceField(
        label=gettext_lazy("Size of the letters"), choices=Print.choices, widget=forms.RadioSelect
    )
    english = forms.ChoiceField(
        label=gettext_lazy("Terms"), choices=English.choices, widget=forms.RadioSelect
    )
    places = forms.CharField(
        label=gettext_lazy("Which squares"),
        required=False,
        help_text=gettext_lazy("By name, like A1, B2. Without any: all that can be begun now."),
    )
    to_a_page = forms.TypedChoiceField(
        label=gettext_lazy("Cards to a page"),
        choices=[(1, gettext_lazy("one")), (2, gettext_lazy("two, to be cut apart"))],
        coerce=int,
        widget=forms.RadioSelect,
    )
    hand = forms.ChoiceField(
        label=gettext_lazy("Squares that nobody has taken are for"),
        choices=[
            (Hand.RIGHT, gettext_lazy("a right-handed knitter")),
            (Hand.LEFT, gettext_lazy("a left-handed knitter")),
        ],
        widget=forms.RadioSelect,
    )
    tiled = forms.TypedChoiceField(
        label=gettext_lazy("Size of the map"),
        choices=[
            (1, gettext_lazy("over several pages, to be glued together")),
            (0, gettext_lazy("on one sheet of A3")),
        ],
        coerce=lambda value: value == "1",
        widget=forms.RadioSelect,
    )
    meeting = MeetingField(
        Meeting.objects.none(),
        label=gettext_lazy("Which meeting"),
        required=False,
        empty_label=gettext_lazy("The next one"),
    )
    piece = forms.ModelChoiceField(
        Piece.objects.none(),
        label=gettext_lazy("Which piece"),
        empty_label=gettext_lazy("Choose a piece"),
        error_messages={"required": gettext_lazy("Choose the piece that the label is for.")},
    )

    def __init__(self, request: HttpRequest, blanket: Blanket, **posted: Any) -> None:
        self._blanket = blanket
        usual = {**_usual(blanket), **request.session.get(SESSION, {}), **posted}
        sent = {**usual, **request.POST.dict()} if request.method == "POST" else None
        super().__init__(sent, initial=usual)
        self.among("meeting").queryset = blanket.drive.meetings.filter(day__gte=localdate())
        self.among("piece").queryset = blanket.pieces.live()
        self.among("piece").required = sent is None or sent.get("kind") == Kind.LABEL

    def among(self, name: str) -> "forms.ModelChoiceField[Any]":
        """A field that chooses among rows."""
        field = self.fields[name]
        assert isinstance(field, forms.ModelChoiceField)
        return field

    def has_choice(self, name: str) -> bool:
        """Whether there is anything to choose from."""
        rows = self.among(name).queryset if name in ("meeting", "piece") else None
        return rows is None or rows.exists()

    def clean_places(self) -> tuple[str, ...]:
        """Names of squares of the blanket, each once."""
        try:
            words = re.split(r"[\s,;]+", self.cleaned_data["places"].strip())
            places = dict.fromkeys(place_named(word) for word in words if word)
        except ValueError as error:
            raise forms.ValidationError(str(error)) from None
        for place in places:
            if place not in self._blanket.plan().size:
                raise forms.ValidationError(
                    _("%(place)s is no square of this blanket.") % {"place": place}
                )
        if len(places) > MOST_CARDS:
            raise forms.ValidationError(
                _("At most %(most)d cards at a time.") % {"most": MOST_CARDS}
            )
        return tuple(map(str, places))

    def options(self) -> Options:
        """What was chosen."""
        chosen = {name: value for name, value in self.cleaned_data.items() if name != "kind"}
        for name in ("piece", "meeting"):
            chosen[name] = chosen[name].pk if chosen[name] else None
        return Options(**chosen)

    def remember(self, request: HttpRequest) -> None:
        """For the next time that this reader prints something."""
        request.session[SESSION] = {name: self.cleaned_data[name] for name in REMEMBERED}


class Offered(NamedTuple):
    """One document on the page, with the choices of its own."""

    kind: Kind
    purpose: str | Promise
    fields: list[BoundField]


def offered(form: PrintForm, *, all_kinds: bool) -> Iterator[Offered]:
    """What the reader may ask for; without ``all_kinds`` that is cards and labels.

    The whole set has no choices of its own: those made for cards and lists count for it too.
    """
    kinds: Iterable[Kind] = map(Kind, PURPOSES) if all_kinds else (Kind.CARDS, Kind.LABEL)
    for kind in kinds:
        fields = [form[name] for name in USES[kind] if kind != Kind.SET and form.has_choice(name)]
        if kind != Kind.LABEL or fields:
            yield Offered(kind, PURPOSES[kind], fields)


def _usual(blanket: Blanket) -> Mapping[str, object]:
    """What is chosen as long as nothing else is."""
    english = blanket.drive.circle.english
    usual = Options(paper=Paper.LETTER if english == English.AMERICAN else Paper.A4)
    return {
        **{name: getattr(usual, name) for name in ("paper", "ink", "print", "to_a_page", "hand")},
        "tiled": int(usual.tiled),
        "english": english,
    }
