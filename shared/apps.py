from django.apps import AppConfig


class SharedConfig(AppConfig):
    name = "shared"
