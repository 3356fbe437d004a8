"""Who is in a circle, and what each may do."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from accounts import access, actions
from accounts.models import Member, Role
from accounts.pages.confirm import confirm, names_in_documents
from accounts.pages.forms import LeaveForm, PaperMemberForm, RolesForm
from accounts.pages.signed_in import SignedInRequest, asked_again
from shared.pages.forms import ActionForm, Done, posted
from shared.pages.methods import require_methods


@require_safe
@login_required
def people(request: SignedInRequest, circle_id: int) -> HttpResponse:
    """The members; for organisers and coordinators also how to reach them, and invitations.

    Organisers also see those who have left, and can forget them.
    """
    me = access.member_of(request.user, circle_id)
    now = timezone.now()
    looks_after = access.may(me, Role.COORDINATOR)
    invitations = (
        me.circle.invitations.select_related("member", "invited_by") if looks_after else []
    )
    shown = [
        (invitation, invitation.standing(now), invitation.roles <= me.may_give)
        for invitation in invitations
    ]
    return render(
        request,
        "accounts/people.html",
        {
            "me": me,
            "members": me.circle.members.present(),
            "former": me.circle.members.former() if me.is_organiser else [],
            "looks_after": looks_after,
            "open_invitations": [row for row in shown if row[1] == "open"],
            "closed_invitations": [row for row in shown if row[1] != "open"],
        },
    )


@require_methods("GET", "POST")
@login_required
def add_paper_member(request: SignedInRequest, circle_id: int) -> HttpResponse:
    """Enter somebody who has no login."""
    me = access.member_of(request.user, circle_id)
    access.require(me, Role.COORDINATOR)
    form = PaperMemberForm(posted(request))
    done = form.carry_out(
        lambda: actions.add_paper_member(by=me, now=timezone.now(), **form.cleaned_data)
    )
    if done:
        messages.success(
            request,
            _("%(name)s is in the circle. You can claim squares for them.") % {"name": done.result},
        )
        return redirect("accounts:people", circle_id)
    return render(
        request, "accounts/add_paper_member.html", {"form": form, "me": me}, status=form.status
    )


@require_methods("GET", "POST")
@login_required
def member(request: SignedInRequest, circle_id: int, member_id: int) -> HttpResponse:
    """Change a paper member's entry, or the roles of somebody with a login."""
    me = access.member_of(request.user, circle_id)
    fellow = access.fellow_of(me, member_id)
    access.require_over(me, fellow)
    sent = posted(request)
    now = timezone.now()
    form: ActionForm
    done: Done[Member] | None
    if fellow.is_paper:
        initial = {
            "name": fellow.name,
            "reach": fellow.note,
            "hand": fellow.hand,
            "may_be_named": fellow.may_be_named,
        }
        form = PaperMemberForm(sent, initial=initial)
        done = form.carry_out(
            lambda: actions.change_member(member=fellow, by=me, now=now, **form.cleaned_data)
        )
    else:
        form = RolesForm(sent, initial={"roles": sorted(fellow.roles)})
        done = form.carry_out(
            lambda: actions.change_roles(member=fellow, by=me, now=now, **form.cleaned_data)
        )
    if done:
        messages.success(request, _("%(name)s's entry is changed.") % {"name": done.result})
        return redirect("accounts:people", circle_id)
    return render(
        request,
        "accounts/member.html",
        {"form": form, "me": me, "fellow": fellow},
        status=form.status,
    )


@require_methods("GET", "POST")
@login_required
def remove_member(request: SignedInRequest, circle_id: int, member_id: int) -> HttpResponse:
    """Take somebody out of the circle, or leave it, after a yes."""
    me = access.member_of(request.user, circle_id)
    fellow = access.fellow_of(me, member_id)
    leaving = fellow == me
    if not leaving:
        access.require_over(me, fellow)
    now = timezone.now()
    form: ActionForm
    if leaving:
        form = LeaveForm(posted(request), leaving=me)
        done = form.carry_out(lambda: actions.leave_circle(member=me, now=now, **form.cleaned_data))
    else:
        form = ActionForm(posted(request))
        done = form.carry_out(lambda: actions.remove_member(member=fellow, by=me, now=now))
    if done:
        if leaving:
            messages.success(request, _("You have left %(circle)s.") % {"circle": me.circle})
            return redirect("accounts:circles")
        messages.success(request, _("%(name)s is no longer in the circle.") % {"name": fellow})
        return redirect("accounts:people", circle_id)
    return confirm(
        request,
        form,
        heading=_("Leave %(circle)s?") % {"circle": me.circle}
        if leaving
        else _("Remove %(name)s from the circle?") % {"name": fellow},
        consequences=_of_removing(fellow, leaving=leaving),
        submit=_("Leave the circle") if leaving else _("Remove %(name)s") % {"name": fellow},
        back=reverse("accounts:people", args=[circle_id]),
    )


@never_cache
@require_methods("GET", "POST")
@login_required
@asked_again
def forget_member(request: SignedInRequest, circle_id: int, member_id: int) -> HttpResponse:
    """Forget somebody on paper, or somebody who has left, after a yes."""
    me = access.member_of(request.user, circle_id)
    access.require(me, Role.ORGANISER)
    fellow = access.forgettable_of(me, member_id)
    form = ActionForm(posted(request))
    if form.carry_out(lambda: actions.forget_member(member=fellow, by=me, now=timezone.now())):
        messages.success(request, _("The name is deleted. What they knitted stays counted."))
        return redirect("accounts:people", circle_id)
    return confirm(
        request,
        form,
        heading=_("Forget %(name)s?") % {"name": fellow},
        consequences=_of_forgetting(fellow),
        submit=_("Forget %(name)s") % {"name": fellow},
        back=reverse("accounts:people", args=[circle_id]),
    )


def _of_forgetting(fellow: Member) -> list[str]:
    """What happens when somebody is forgotten, in sentences."""
    sentences = [
        _("The name %(name)s is deleted. Everybody reads “a former member” instead."),
        _("The note on how to reach %(name)s and their days away are deleted, too."),
        _("What %(name)s knitted stays counted."),
    ]
    if fellow.left_at is None:
        sentences.append(_("Squares that %(name)s holds become free for others within the hour."))
    elif not fellow.is_paper:
        sentences.append(_("The login of %(name)s stays: only they can delete it."))
    sentences.append(names_in_documents())
    sentences.append(_("This cannot be undone."))
    return [sentence % {"name": fellow} for sentence in sentences]


def _of_removing(fellow: Member, *, leaving: bool) -> list[str]:
    """What happens when somebody goes, in sentences."""
    if leaving:
        return [
            _("You no longer see this circle, its blankets or its people."),
            _("What you have knitted stays, with your name."),
            _("Squares that you hold become free for others within the hour."),
            _("You can only come back with a new invitation."),
            _("Invitations that you made stop working, and so does the link that you joined by."),
        ]
    sentences = [
        _("What %(name)s has knitted stays, with their name."),
        _("Squares that %(name)s holds become free for others within the hour."),
    ]
    if fellow.is_paper:
        sentences.append(_("The note on how to reach %(name)s is deleted."))
    else:
        sentences.append(
            _("%(name)s no longer sees the circle, and can only come back with a new invitation.")
        )
        sentences.append(
            _("Invitations that %(name)s made stop working, and so does the link they joined by.")
        )
    return [sentence % {"name": fellow} for sentence in sentences]
