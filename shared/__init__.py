"""What serves every app: settings, urls, the Celery app, middleware, template tags, health."""

from shared.celery import app as celery_app

__all__ = ["celery_app"]
