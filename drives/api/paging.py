"""Long lists come in pages: ``count``, ``next``, ``previous``, ``results``."""

from rest_framework.pagination import PageNumberPagination

from drives.craft.places import LIMIT


class Pages(PageNumberPagination):
    """``?page=2&page_size=50``"""

    page_size = 100
    page_size_query_param = "page_size"
    max_page_size = 1000


class SquarePages(Pages):
    """All squares of a blanket on one page, unless the caller wants fewer: a map needs them all."""

    page_size = max_page_size = LIMIT * LIMIT
