"""How yarn moves, as forms on its page: what each asks and which action it calls."""

from collections.abc import Callable, Sequence
from typing import Any, NamedTuple

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from accounts.models import Member
from drives.actions.yarn import ledger
from drives.models import Blanket, Move
from drives.pages.common.fields import MeasureForm
from drives.pages.yarn.amounts import BALANCE, AmountField
from shared.basics.text import Text


class MoveKind(NamedTuple):
    """One way of moving: its words, and what its form asks."""

    heading: Text
    button: Text
    act: Callable[..., Move | None]
    who: Text = ""  # the label of whom is asked for; empty: nobody
    holders: bool = False  # of those who have some alone, else of the whole circle
    store: bool = False  # whether it may be the store too
    note: bool = False
    counts: bool = False  # whether the amount is a balance, which may be 0


MOVE_KINDS = {
    "receive": MoveKind(
        gettext_lazy("More has come"), gettext_lazy("Note what came"), ledger.receive_yarn,
        note=True,
    ),
    "hand-out": MoveKind(
        gettext_lazy("Hand some out"), gettext_lazy("Hand it out"), ledger.hand_out_yarn,
        who=gettext_lazy("To whom"),
    ),
    "take-back": MoveKind(
        gettext_lazy("Some comes back"), gettext_lazy("Note what came back"), ledger.take_back_yarn,
        who=gettext_lazy("From whom"), holders=True,
    ),
    "knit-up": MoveKind(
        gettext_lazy("Some is knitted up"), gettext_lazy("Take it off the books"),
        ledger.knit_up_yarn, who=gettext_lazy("Out of whose hands"), holders=True, store=True,
    ),
    "count": MoveKind(
        gettext_lazy("Count again"), gettext_lazy("Note what there is"), ledger.count_yarn_again,
        who=gettext_lazy("What is counted"), store=True, note=True, counts=True,
    ),
}  # fmt: skip
STORE = "store"
OWN_MOVE = "knit-up"  # what members note for themselves


class MoveForm(MeasureForm):
    """An amount, and whom it concerns; ``seen``: the newest line of the ledger on the page."""

    member = forms.TypedChoiceField()
    blanket = forms.TypedChoiceField(label=gettext_lazy("For which blanket"), required=False)
    amount = AmountField(least=1)
    note = forms.CharField(label=gettext_lazy("Note"), max_length=200, required=False)
    seen = forms.IntegerField(widget=forms.HiddenInput, required=False, min_value=0)

    def __init__(
        self,
        sent: Any,
        *,
        slug: str,
        units: str,
        people: Sequence[Member] | None,
        seen: int,
        blankets: Sequence[Blanket] = (),
    ) -> None:
        """``people``: whom it may concern; None where it concerns the reader alone.

        ``blankets``: for which some of it is reserved. Of one alone it is known.
        """
        super().__init__(sent, units=units, initial={"seen": seen}, auto_id=f"id_{slug}_%s")
        self.slug, self.way = slug, MOVE_KINDS[slug]
        if slug != OWN_MOVE or len(blankets) < 2:
            del self.fields["blanket"]
        else:
            self._ask_which(blankets)
        if not self.way.note:
            del self.fields["note"]
        if self.way.counts:
            del self.fields["seen"]  # to count twice changes nothing anyhow
            balance = AmountField(BALANCE, least=0)
            balance.tell_in(units)
            self.fields["amount"] = balance
        if not self.way.who or people is None:
            del self.fields["member"]
        else:
            self._ask_for(people)

    def _ask_which(self, blankets: Sequence[Blanket]) -> None:
        by_id = {str(blanket.pk): blanket for blanket in blankets}
        choices = [(pk, str(blanket)) for pk, blanket in by_id.items()]
        self.offer("blanket", [("", _("Another one, or not known")), *choices])
        field = self.fields["blanket"]
        assert isinstance(field, forms.TypedChoiceField)
        field.coerce, field.empty_value = by_id.__getitem__, None

    def _ask_for(self, people: Sequence[Member]) -> None:
        by_id: dict[str, Member | None] = {str(member.pk): member for member in people}
        choices = [(pk, str(member)) for pk, member in by_id.items()]
        nobody = (STORE, _("The store")) if self.way.store else ("", "---------")
        self.offer("member", [nobody, *choices])
        member = self.fields["member"]
        assert isinstance(member, forms.TypedChoiceField)
        member.label, member.coerce = str(self.way.who), {STORE: None, **by_id}.__getitem__

    def told(self) -> dict[str, Any]:
        """What a valid form tells the action."""
        told = dict(self.cleaned_data)
        return {"grams": told.pop("amount")} | told
