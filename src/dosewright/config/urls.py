"""Addresses: the bench's, and under `api/` those of other programs."""

from django.urls import URLPattern, URLResolver, include, path, re_path

from dosewright.api.service import fallback, service

__all__ = ["urlpatterns"]

urlpatterns: list[URLPattern | URLResolver] = [
    path("api/", service.urls),
    re_path(r"^api/", fallback),
    path("", include("dosewright.web.urls")),
]
