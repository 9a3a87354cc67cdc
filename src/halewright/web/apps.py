"""Django's name for the web face."""

from django.apps import AppConfig


class WebConfig(AppConfig):
    """The pages."""

    name = "halewright.web"
    label = "web"
