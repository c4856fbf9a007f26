"""Who signs in: a name that is printed, a role, and the home that bounds what a home's own people see."""

from typing import ClassVar

from django.contrib.auth.models import AbstractBaseUser, BaseUserManager
from django.db import models

from dosewright.core.custody.event import Role

__all__ = ["Account", "AccountManager"]


class AccountManager(BaseUserManager["Account"]):
    """Makes accounts with hashed passwords."""

    def create_account(self, username: str, password: str, *, name: str, role: Role, home: str | None = None) -> "Account":
        """A new account that may sign in. Raises IntegrityError for a username that is taken."""
        account = self.model(username=username, name=name, role=role.value, home_id=home)
        account.set_password(password)
        account.save(using=self._db)
        return account


class Account(AbstractBaseUser):
    """`name` is printed as it stands. An account is closed (`is_active` false), never deleted: the ledger names it."""

    username = models.CharField(max_length=60, unique=True)
    name = models.CharField(max_length=120)
    role = models.CharField(max_length=20, choices=[(role.value, role.value) for role in Role])
    home = models.ForeignKey("store.HomeRow", null=True, blank=True, on_delete=models.PROTECT)
    is_active = models.BooleanField(default=True)
    badge = models.CharField(max_length=64, null=True, blank=True, unique=True)  # SHA-256 of the badge's code, which is kept nowhere
    pin = models.CharField(max_length=128, blank=True, default="")  # hashed like a password

    objects: ClassVar[AccountManager] = AccountManager()

    USERNAME_FIELD = "username"
    REQUIRED_FIELDS: ClassVar[list[str]] = ["name", "role"]

    class Meta:
        constraints: ClassVar = [
            models.CheckConstraint(condition=models.Q(role__in=[role.value for role in Role]), name="account_role_known"),
            models.CheckConstraint(
                condition=models.Q(badge__isnull=True, pin="") | (models.Q(badge__isnull=False) & ~models.Q(pin="")),
                name="badge_and_pin_go_together",
            ),
            models.CheckConstraint(condition=~models.Q(role="carer") | models.Q(home__isnull=False), name="carer_has_a_home"),
        ]

    def __str__(self) -> str:
        return self.username
