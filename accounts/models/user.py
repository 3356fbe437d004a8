"""A person who can sign in."""

from __future__ import annotations

from allauth.account.models import EmailAddress
from django.contrib.auth.models import AbstractBaseUser, BaseUserManager
from django.db import models
from django.db.models.functions import Lower
from django.utils.translation import gettext_lazy


class UserManager(BaseUserManager["User"]):
    """E-mail addresses are kept in lower case, so that one person has one login."""

    def create_user(self, *, email: str, name: str, password: str | None = None) -> User:
        """A stored user; without ``password`` nobody can sign in as them."""
        user = self.model(email=email.strip().lower(), name=name)
        user.set_password(password)
        user.save(using=self._db)
        return user

    def reachable(self) -> models.QuerySet[User]:
        """Those whom the site may write to: the address that they sign in with is proven."""
        proven = EmailAddress.objects.filter(
            user=models.OuterRef("pk"), email=models.OuterRef("email"), verified=True
        )
        return self.filter(models.Exists(proven), is_active=True)

    def get_by_natural_key(self, username: str | None) -> User:
        """The user with this e-mail address, in whatever case it was typed."""
        return self.get(email=(username or "").strip().lower())


class User(AbstractBaseUser):
    """Signs in with an e-mail address and a password; may be in several circles."""

    email = models.EmailField(gettext_lazy("e-mail address"), unique=True)
    name = models.CharField(gettext_lazy("name"), max_length=100)
    # Keys, calendar addresses and the like open nothing if they were made before.
    password_changed_at = models.DateTimeField(null=True, blank=True)
    is_active = models.BooleanField(gettext_lazy("may sign in"), default=True)

    objects = UserManager()

    USERNAME_FIELD = "email"
    EMAIL_FIELD = "email"
    REQUIRED_FIELDS = ["name"]

    class Meta:
        ordering = ["name", "id"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(email=Lower("email")), name="email_in_lower_case"
            ),
        ]

    @property
    def has_proven_address(self) -> bool:
        """Whether the address that they sign in with has been shown to be theirs."""
        return User.objects.reachable().filter(pk=self.pk).exists()

    def __str__(self) -> str:
        return self.name or self.email
