"""The store as a Django application, labelled `store`."""

from django.apps import AppConfig

__all__ = ["StoreConfig"]


class StoreConfig(AppConfig):
    """All models live here."""

    name = "dosewright.store"
    label = "store"
    default_auto_field = "django.db.models.BigAutoField"
