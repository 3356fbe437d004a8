"""What serves every app, and runs them all. Celery finds its app here, by the name ``shared``."""

from shared.celery import app as celery_app

__all__ = ["celery_app"]
