"""The addresses of people and circles."""

from django.urls import path

from accounts.pages import circles, invitations, me, people, privacy, sessions

app_name = "accounts"

urlpatterns = [
    path("privacy/", privacy.privacy, name="privacy"),
    path("me/", me.me, name="me"),
    path("me/delete/", me.delete_me, name="delete_me"),
    path("me/keys/new/", me.new_token, name="new_token"),
    path("me/keys/<int:token_id>/revoke/", me.revoke_token, name="revoke_token"),
    path("me/browsers/", sessions.sessions, name="sessions"),
    path("me/browsers/others/end/", sessions.end_other_sessions, name="end_other_sessions"),
    path("me/browsers/<slug:mark>/end/", sessions.end_session, name="end_session"),
    path("join/<str:token>/", invitations.accept_invitation, name="join"),
    path("circles/", circles.circles, name="circles"),
    path("circles/new/", circles.new_circle, name="new_circle"),
    path("circles/<int:circle_id>/settings/", circles.circle_settings, name="circle_settings"),
    path("circles/<int:circle_id>/close/", circles.close_circle, name="close_circle"),
    path("circles/<int:circle_id>/people/", people.people, name="people"),
    path("circles/<int:circle_id>/people/add/", people.add_paper_member, name="add_paper_member"),
    path("circles/<int:circle_id>/people/<int:member_id>/", people.member, name="member"),
    path(
        "circles/<int:circle_id>/people/<int:member_id>/remove/",
        people.remove_member,
        name="remove_member",
    ),
    path(
        "circles/<int:circle_id>/people/<int:member_id>/forget/",
        people.forget_member,
        name="forget_member",
    ),
    path(
        "circles/<int:circle_id>/people/<int:member_id>/invite/",
        invitations.invite_person,
        name="invite_member",
    ),
    path("circles/<int:circle_id>/invite/", invitations.invite_person, name="invite"),
    path(
        "circles/<int:circle_id>/invitations/<int:invitation_id>/revoke/",
        invitations.revoke_invitation,
        name="revoke_invitation",
    ),
]
