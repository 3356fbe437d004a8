"""The only code that changes who is in a circle and what they may do there.

One function is one transaction and writes one event; doing it twice changes nothing the
second time. ``by`` is the member who acts, ``now`` the moment. Whether ``by`` may act is
decided by ``accounts.access`` before; what no role may do is refused here.
"""

from accounts.actions.addresses import want_address
from accounts.actions.calls import begin_call, end_call, forget_call, forget_calls
from accounts.actions.circles import change_circle, make_circle
from accounts.actions.closing import close_circle, remove_closed_circles, reopen_circle
from accounts.actions.deletion import delete_person, forget_member
from accounts.actions.invitations import (
    Invited,
    accept_invitation,
    forget_invitations,
    invite_person,
    mail_invitation,
    revoke_invitation,
)
from accounts.actions.mails import close_mails, forget_old_mails, queue_mail
from accounts.actions.members import (
    add_paper_member,
    change_member,
    change_person,
    change_roles,
    leave_circle,
    name_person,
    remove_member,
)
from accounts.actions.names import require_plain
from accounts.actions.operator import enable_person, invite_again
from accounts.actions.passwords import change_password
from accounts.actions.post import (
    drop_post,
    keep_post,
    note_post_sent,
    note_post_unclear,
    put_back_post,
    take_post,
)
from accounts.actions.security import forget_security_events, note_security
from accounts.actions.sessions import (
    begin_session,
    end_other_sessions,
    end_session,
    keep_session,
    share_session,
)
from accounts.actions.tokens import make_token, revoke_token, use_token

__all__ = [
    "Invited",
    "accept_invitation",
    "add_paper_member",
    "begin_call",
    "begin_session",
    "change_circle",
    "change_member",
    "change_password",
    "change_person",
    "change_roles",
    "close_circle",
    "close_mails",
    "delete_person",
    "drop_post",
    "enable_person",
    "end_call",
    "end_other_sessions",
    "end_session",
    "forget_call",
    "forget_calls",
    "forget_invitations",
    "forget_member",
    "forget_old_mails",
    "forget_security_events",
    "invite_again",
    "invite_person",
    "keep_post",
    "keep_session",
    "leave_circle",
    "mail_invitation",
    "make_circle",
    "make_token",
    "name_person",
    "note_post_sent",
    "note_post_unclear",
    "note_security",
    "put_back_post",
    "queue_mail",
    "remove_closed_circles",
    "remove_member",
    "reopen_circle",
    "require_plain",
    "revoke_invitation",
    "revoke_token",
    "share_session",
    "take_post",
    "use_token",
    "want_address",
]
