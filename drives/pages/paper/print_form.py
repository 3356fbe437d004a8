"""What may be chosen about printed documents, and what each is good for."""

import re
from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

from django import forms
from django.forms.boundfield import BoundField
from django.http import HttpRequest
from django.utils.formats import date_format
from django.utils.timezone import localdate
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from accounts.models import ENGLISHES
from drives.craft.knitter import English, Hand
from drives.models import Blanket, Ink, Meeting, Options, Paper, Piece, Print
from drives.sheets.kind import Document
from drives.sheets.kinds import PRINTED
from drives.sheets.kinds.cards import MOST_CARDS
from drives.words.places import place_named
from shared.pages.forms import ActionForm

REMEMBERED = ("paper", "ink", "print")
SESSION = "on-paper"
NEEDED = {name for kind in PRINTED.values() for name in kind.needs}


class MeetingField(forms.ModelChoiceField):  # type: ignore[type-arg]  # only typed
    """The meetings by their days."""

    def label_from_instance(self, obj: Any) -> str:
        return date_format(obj.day, "WEEKDAY_FORMAT")


class PrintForm(ActionForm):
    """One form for all documents: the button says which; what is not sent is as last time."""

    use_required_attribute = False  # what one document needs must not hold another one up

    kind = forms.ChoiceField(choices=[(code, kind.label) for code, kind in PRINTED.items()])
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
        label=gettext_lazy("Terms"), choices=ENGLISHES, widget=forms.RadioSelect
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
        self.rows = {
            "meeting": blanket.drive.meetings.filter(day__gte=localdate()),
            "piece": blanket.pieces.live(),
        }
        for name, rows in self.rows.items():
            self.offer(name, rows)
        asked = PRINTED.get(str(sent.get("kind"))) if sent else None
        for name in NEEDED:
            self.fields[name].required = asked is None or name in asked.needs

    def has_choice(self, name: str) -> bool:
        """Whether there is anything to choose from."""
        return name not in self.rows or self.rows[name].exists()

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
    """One document on the page, with the choices that stand with it."""

    kind: Document
    fields: list[BoundField]


def offered(form: PrintForm, *, all_kinds: bool) -> Iterator[Offered]:
    """What the reader may ask for; without ``all_kinds`` what every member may.

    A choice that several documents have stands with the first of them, and counts for all.
    """
    there: dict[str, bool] = {}
    for kind in PRINTED.values():
        if all_kinds or kind.members_read:
            new = [name for name in kind.uses if name not in there]
            there |= {name: form.has_choice(name) for name in new}
            if all(there[name] for name in kind.needs):
                yield Offered(kind, [form[name] for name in new if there[name]])


def _usual(blanket: Blanket) -> Mapping[str, object]:
    """What is chosen as long as nothing else is."""
    english = blanket.drive.circle.english
    usual = Options(paper=Paper.LETTER if english == English.AMERICAN else Paper.A4)
    return {
        **{name: getattr(usual, name) for name in ("paper", "ink", "print", "to_a_page", "hand")},
        "tiled": int(usual.tiled),
        "english": english,
    }
