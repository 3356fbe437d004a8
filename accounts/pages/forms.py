"""What the pages ask people for."""

from collections.abc import Sequence
from functools import cache
from typing import Any
from zoneinfo import available_timezones

from django import forms
from django.db import models
from django.utils.translation import gettext_lazy

from accounts.models import ENGLISHES, HANDS, ApiToken, Circle, Member, Role, Units, User
from drives.craft.knitter import English, Hand
from shared.pages.forms import ActionForm

AREAS = (
    "Africa", "America", "Antarctica", "Arctic", "Asia", "Atlantic", "Australia", "Europe",
    "Indian", "Pacific", "UTC",
)  # fmt: skip
"""Time zones are named area/place; the other names in the database are old or technical."""


@cache
def time_zones() -> list[tuple[str, str]]:
    """Every time zone as a choice, by name."""
    names = sorted(name for name in available_timezones() if name.split("/")[0] in AREAS)
    return [(name, name.replace("_", " ")) for name in names]


def length(model: type[models.Model], field: str) -> int | None:
    """The most characters that the model's field takes."""
    column = model._meta.get_field(field)
    assert isinstance(column, models.CharField)
    return column.max_length


def hand_field() -> forms.ChoiceField:
    """The hand somebody knits with."""
    return forms.ChoiceField(
        label=gettext_lazy("Knits with"),
        choices=HANDS,
        initial=Hand.RIGHT,
        widget=forms.RadioSelect,
        help_text=gettext_lazy(
            "The hand that makes the stitches. It decides the order of the steps."
        ),
    )


class CircleForm(ActionForm):
    """A circle's settings."""

    name = forms.CharField(
        label=gettext_lazy("Name of the circle"), max_length=length(Circle, "name")
    )
    units = forms.ChoiceField(
        label=gettext_lazy("Measures"),
        choices=Units.choices,
        initial=Units.CM,
        widget=forms.RadioSelect,
    )
    english = forms.ChoiceField(
        label=gettext_lazy("Words of the trade"),
        choices=ENGLISHES,
        initial=English.BRITISH,
        widget=forms.RadioSelect,
    )
    time_zone = forms.ChoiceField(
        label=gettext_lazy("Time zone"), choices=time_zones, initial="Europe/London"
    )


class CircleSettingsForm(CircleForm):
    """What is asked of a circle that is there."""

    currency = forms.RegexField(
        r"^[A-Za-z]{3}\Z",
        label=gettext_lazy("Currency of prices"),
        required=False,
        help_text=gettext_lazy("Its code of three letters, for example GBP, USD or EUR."),
        error_messages={"invalid": gettext_lazy("Three letters, please: GBP, USD, EUR …")},
    )

    def clean_currency(self) -> str:
        return str(self.cleaned_data["currency"]).upper()


class NewCircleForm(CircleForm):
    """A circle's settings and its maker's hand."""

    hand = hand_field()


class PaperMemberForm(ActionForm):
    """Somebody without a login."""

    name = forms.CharField(label=gettext_lazy("Name"), max_length=length(Member, "name"))
    reach = forms.CharField(
        label=gettext_lazy("How to reach them"),
        max_length=length(Member, "note"),
        required=False,
        help_text=gettext_lazy(
            "For example a telephone number. Only organisers and coordinators see it."
        ),
    )
    hand = hand_field()
    may_be_named = forms.BooleanField(
        label=gettext_lazy("They agreed that receivers read their name"),
        required=False,
        help_text=gettext_lazy(
            "On the gift record of a blanket that they helped to knit. Otherwise they are counted."
        ),
    )


class RolesForm(ActionForm):
    """What somebody does in the circle."""

    roles = forms.TypedMultipleChoiceField(
        label=gettext_lazy("Roles"),
        choices=Role.choices,
        coerce=Role,
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": gettext_lazy("Choose at least one role.")},
        help_text=gettext_lazy(
            "Organisers plan and decide everything; coordinators hand out squares and print; "
            "volunteers knit."
        ),
    )


class InviteForm(RolesForm):
    """Whom to let in, as what and for how long; only roles that ``by`` may give are offered."""

    email = forms.EmailField(
        label=gettext_lazy("Email address"),
        required=False,
        help_text=gettext_lazy(
            "The invitation is sent there and works once. Without an address you get a link "
            "that you can give to several people."
        ),
    )
    days = forms.TypedChoiceField(
        label=gettext_lazy("Open for"),
        choices=[
            (3, gettext_lazy("3 days")),
            (14, gettext_lazy("2 weeks")),
            (60, gettext_lazy("2 months")),
        ],
        coerce=int,
        initial=14,
    )

    field_order = ("email", "roles", "days")

    def __init__(self, *args: Any, by: Member, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        given = [(role.value, role.label) for role in Role if role in by.may_give]
        self.offer("roles", given)
        self.fields["roles"].initial = [Role.VOLUNTEER]


class JoinForm(ActionForm):
    """What a circle needs to know of somebody who joins."""

    hand = hand_field()


class PersonForm(ActionForm):
    """A person with a login, in all their circles."""

    name = forms.CharField(label=gettext_lazy("Your name"), max_length=length(User, "name"))
    hand = hand_field()
    named_in = forms.TypedMultipleChoiceField(
        label=gettext_lazy("Receivers may read my name"),
        coerce=int,
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text=gettext_lazy(
            "On the gift record of a blanket that you helped to knit. Where you do not tick "
            "the box, you are counted but not named."
        ),
    )

    def __init__(self, *args: Any, memberships: Sequence[Member], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["named_in"].initial = [
            member.circle_id for member in memberships if member.may_be_named
        ]
        self.offer(
            "named_in",
            [
                (
                    member.circle_id,
                    gettext_lazy("Blankets of %(circle)s") % {"circle": member.circle},
                )
                for member in memberships
            ],
        )
        if not memberships:
            del self.fields["named_in"]


class LeaveForm(ActionForm):
    """The only organiser says, on leaving, who goes on."""

    successor = forms.ModelChoiceField(
        label=gettext_lazy("Who organises the circle from now on?"),
        queryset=Member.objects.none(),
        empty_label=gettext_lazy("(nobody yet)"),
        help_text=gettext_lazy(
            "You are the only organiser. If nobody is to go on, close the circle instead."
        ),
        error_messages={"required": gettext_lazy("Choose who organises the circle from now on.")},
    )

    def __init__(self, *args: Any, leaving: Member, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        others = leaving.circle.members.present().exclude(pk=leaving.pk).exclude(user=None)
        if leaving.is_organiser and not others.organisers().exists() and others.exists():
            self.offer("successor", others)
        else:
            del self.fields["successor"]


class CloseForm(ActionForm):
    """Whether a circle may go."""

    taken = forms.BooleanField(
        label=gettext_lazy("I have taken along what we want to keep"),
        error_messages={"required": gettext_lazy("Take along what you want to keep first.")},
    )


class TokenForm(ActionForm):
    """A new key to the API."""

    name = forms.CharField(
        label=gettext_lazy("What is it for?"),
        max_length=length(ApiToken, "name"),
        help_text=gettext_lazy("So that you know later which one to revoke."),
    )
    read_only = forms.TypedChoiceField(
        label=gettext_lazy("What may it do?"),
        choices=[
            ("yes", gettext_lazy("Only read what I may see")),
            ("no", gettext_lazy("Read and change all that I may")),
        ],
        coerce=lambda value: value == "yes",
        initial="yes",
        widget=forms.RadioSelect,
    )
    days = forms.TypedChoiceField(
        label=gettext_lazy("It works for"),
        choices=[
            (30, gettext_lazy("30 days")),
            (90, gettext_lazy("3 months")),
            (365, gettext_lazy("a year")),
        ],
        coerce=int,
        initial=90,
    )
