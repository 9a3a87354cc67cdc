"""Django's name for the rows."""

from django.apps import AppConfig


class StoreConfig(AppConfig):
    """The tables."""

    name = "halewright.store"
    label = "store"
    default_auto_field = "django.db.models.BigAutoField"
