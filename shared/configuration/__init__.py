"""What ``shared.settings`` is made of: the environment read, and its larger values worked out.

The settings import it before anything else is there: no models, no translations, no ``settings``.
"""
