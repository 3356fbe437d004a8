"""The rows of who: import them from here, not from the files beside this one."""

from accounts.models.calls import IdempotentCall
from accounts.models.circle import ENGLISHES, Circle, Units
from accounts.models.event import Event, Topic
from accounts.models.invitation import Invitation, Standing
from accounts.models.mail import Mail
from accounts.models.member import HANDS, Member
from accounts.models.posted import Posted, PostedQuerySet, sending_constraints
from accounts.models.roles import Role, RoleHolder
from accounts.models.security import SecurityEvent, SecurityKind
from accounts.models.session import Session
from accounts.models.tokens import ApiToken, digest_of, made_since_the_password
from accounts.models.user import User

__all__ = [
    "ENGLISHES",
    "HANDS",
    "ApiToken",
    "Circle",
    "Event",
    "IdempotentCall",
    "Invitation",
    "Mail",
    "Member",
    "Posted",
    "PostedQuerySet",
    "Role",
    "RoleHolder",
    "SecurityEvent",
    "SecurityKind",
    "Session",
    "Standing",
    "Topic",
    "Units",
    "User",
    "digest_of",
    "made_since_the_password",
    "sending_constraints",
]
