"""Reading a body. Django bounds its size (``DATA_UPLOAD_MAX_MEMORY_SIZE``)."""

from collections.abc import Mapping
from typing import IO, Any

from rest_framework.exceptions import ParseError
from rest_framework.parsers import JSONParser


class JsonBody(JSONParser):
    """JSON that does not go down deeper than Python can follow."""

    def parse(
        self,
        stream: IO[Any],
        media_type: str | None = None,
        parser_context: Mapping[str, Any] | None = None,
    ) -> Any:
        try:
            return super().parse(stream, media_type, parser_context)
        except RecursionError as error:
            raise ParseError from error
