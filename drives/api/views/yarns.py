"""The yarn store."""

from django.db.models import QuerySet
from drf_spectacular.utils import extend_schema
from rest_framework.generics import ListAPIView

from accounts.access import member_of
from drives.api.shapes.yarns import YarnSerializer
from drives.models import Yarn
from drives.models.yarn import with_hands


@extend_schema(tags=["circles"])
class YarnsView(ListAPIView[Yarn]):
    """The yarns of a circle, by colour and dye lot."""

    serializer_class = YarnSerializer

    def get_queryset(self) -> QuerySet[Yarn]:
        me = member_of(self.request.user, self.kwargs["circle_id"])
        return with_hands(Yarn.objects.filter(circle=me.circle), me)
