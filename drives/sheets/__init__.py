"""Printable documents, and the Celery tasks that render them."""
