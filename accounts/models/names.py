"""The name of a person who may be gone."""

from typing import TYPE_CHECKING, Any

from django.db import models
from django.utils.translation import gettext as _

if TYPE_CHECKING:
    Name = models.CharField[str, str]
else:
    Name = models.CharField


class PersonName(Name):
    """A name; a person who is forgotten has none, and is read as “a former member”.

    It is said in the reader's language, so it is never stored. To migrations it is a CharField.
    """

    def from_db_value(self, value: str | None, *_how: object) -> str | None:
        """The name, or what is said for it."""
        return _("a former member") if value == "" else value

    def deconstruct(self) -> Any:
        """As what it lies in the database."""
        name, _path, args, options = super().deconstruct()
        return name, "django.db.models.CharField", args, options
