"""The addresses of the table with their views, each behind its door."""

from collections.abc import Mapping

from django.urls import path

from dosewright.web import signin, work_list
from dosewright.web.guard import View, guarded
from dosewright.web.rights import SCREENS

__all__ = ["VIEWS", "urlpatterns"]

VIEWS: Mapping[str, View] = {
    "sign-in": signin.sign_in,
    "sign-out": signin.sign_out,
    "work-list": work_list.work_list,
}

urlpatterns = [path(address.path, guarded(address, VIEWS[address.name]), name=address.name) for address in SCREENS if address.name in VIEWS]
