"""Addresses of the bench."""

from django.urls import URLPattern, URLResolver, include, path

__all__ = ["urlpatterns"]

urlpatterns: list[URLPattern | URLResolver] = [path("", include("dosewright.web.urls"))]
