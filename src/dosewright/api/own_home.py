"""Where a request names a home in its body: whoever is bounded to one moves nobody into another."""

from dosewright.actions.refuse_address import refuse_address
from dosewright.api.answer import Refused
from dosewright.api.request import ApiRequest
from dosewright.core.custody.rights import check_home
from dosewright.core.units.ids import HomeId

__all__ = ["require_own_home"]


def require_own_home(request: ApiRequest, name: str, home: HomeId) -> None:
    """`name` is the address's. Raises Refused, on record."""
    if findings := check_home(request.auth.actor, home):
        refuse_address(f"api {name}", request.auth.on, tuple(finding.code for finding in findings))
        raise Refused(403, findings)
