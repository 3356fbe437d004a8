"""Rows that belong to no app: what the site's own processes agree upon."""

from django.db import models


class Lease(models.Model):
    """Which of several processes does what only one may do, if any (``shared.workers.only_one``).

    ``beat`` grows for as long as the ``holder`` lives.
    """

    name = models.CharField(primary_key=True, max_length=40)
    holder = models.CharField(max_length=32, blank=True)
    beat = models.BigIntegerField(default=0)

    def __str__(self) -> str:
        return self.name
