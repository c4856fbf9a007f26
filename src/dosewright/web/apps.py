"""The bench as a Django application, labelled `web`. It has no models: those live in the store."""

from django.apps import AppConfig

__all__ = ["WebConfig"]


class WebConfig(AppConfig):
    """Templates, static files and template tags of the bench."""

    name = "dosewright.web"
    label = "web"
