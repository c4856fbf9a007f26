"""What a pharmacist signs by a program: their own password, again, each time; wrong ones lock the account as at the bench."""

from django.contrib.auth import authenticate

from dosewright.actions.refuse_address import refuse_address
from dosewright.api.answer import Refused, stop
from dosewright.api.request import ApiRequest

__all__ = ["require_signature"]


def require_signature(request: ApiRequest, name: str, password: str) -> None:
    """Whoever the program acts for signs; `name` is the address's. Raises Refused, on record, for a password that is not theirs."""
    account = authenticate(request, username=request.auth.username, password=password)
    if account is None or str(account.pk) != request.auth.actor.id:
        refuse_address(f"api {name}", request.auth.on, ("custody.wrong-password",))
        raise Refused(403, stop("custody.wrong-password"))
