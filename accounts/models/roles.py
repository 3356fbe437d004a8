"""The three roles, and the rows that carry them."""

from __future__ import annotations

from collections.abc import Collection

from django.db import models
from django.utils.translation import gettext_lazy

from shared.basics.lists import listed


class Role(models.TextChoices):
    """What somebody does in a circle; one person may have several."""

    ORGANISER = "organiser", gettext_lazy("organiser")
    COORDINATOR = "coordinator", gettext_lazy("coordinator")
    VOLUNTEER = "volunteer", gettext_lazy("volunteer")


class RoleHolder(models.Model):
    """A row that carries roles: a member, or an invitation that gives them."""

    is_organiser = models.BooleanField(gettext_lazy("organiser"), default=False)
    is_coordinator = models.BooleanField(gettext_lazy("coordinator"), default=False)
    is_volunteer = models.BooleanField(gettext_lazy("volunteer"), default=False)

    class Meta:
        abstract = True

    @property
    def roles(self) -> set[Role]:
        """The roles that are set."""
        return {role for role in Role if getattr(self, f"is_{role.value}")}

    @property
    def role_words(self) -> str:
        """The roles for a sentence: ``organiser and volunteer``."""
        words = [str(role.label) for role in Role if role in self.roles]
        return listed(words)

    def set_roles(self, roles: Collection[Role]) -> list[str]:
        """Set exactly ``roles`` (unsaved); answers the names of the fields for a save."""
        for role in Role:
            setattr(self, f"is_{role.value}", role in roles)
        return [f"is_{role.value}" for role in Role]


ANY_ROLE = models.Q(is_organiser=True) | models.Q(is_coordinator=True) | models.Q(is_volunteer=True)
"""Condition: at least one role is set."""
