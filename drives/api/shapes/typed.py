"""Serializers made of TypedDicts, so that what an answer holds is written down in one place."""

from datetime import date
from enum import Enum
from functools import cache
from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin, get_type_hints, is_typeddict

from rest_framework import serializers

PLAIN: dict[Any, type[serializers.Field[Any, Any, Any, Any]]] = {
    bool: serializers.BooleanField,
    int: serializers.IntegerField,
    float: serializers.FloatField,
    str: serializers.CharField,
    date: serializers.DateField,
}


@cache
def shape(told: type) -> type[serializers.Serializer[Any]]:
    """The serializer of a TypedDict, called and described as that is.

    A member is a number, a truth, a string, another TypedDict, or a list of these; or null. Of a
    string that is a date, or one of an Enum's values, ``Annotated`` says so.
    """
    hints = get_type_hints(told, include_extras=True)
    members: dict[str, Any] = {name: _field(hint) for name, hint in hints.items()}
    made: type[serializers.Serializer[Any]] = serializers.SerializerMetaclass(
        f"{told.__name__}Serializer", (serializers.Serializer,), members | {"__doc__": told.__doc__}
    )
    return made


def _field(hint: Any, **more: Any) -> serializers.Field[Any, Any, Any, Any]:
    origin, parts = get_origin(hint), get_args(hint)
    if origin in (Union, UnionType):
        (known,) = (part for part in parts if part is not type(None))
        return _field(known, allow_null=True, **more)
    if origin is Annotated:
        means = parts[1]
        if issubclass(means, Enum):
            return serializers.ChoiceField([each.value for each in means], **more)
        return PLAIN[means](**more)
    if origin is list:
        (part,) = parts
        if is_typeddict(part):
            return shape(part)(many=True, **more)
        return serializers.ListField(child=_field(part), **more)
    return (shape(hint) if is_typeddict(hint) else PLAIN[hint])(**more)
