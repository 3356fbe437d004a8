"""What is said to people."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeAlias

if TYPE_CHECKING:
    from django.utils.functional import _StrPromise

Text: TypeAlias = "str | _StrPromise"
"""A text, or one that waits for its reader's language."""
