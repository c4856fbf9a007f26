"""Who works at Tern Street, and who else signs in: invented people, at least one a role. The password is printed: nothing is real."""

from dataclasses import dataclass

from dosewright.core.custody.event import Role

__all__ = ["PASSWORD", "STAFF", "StaffMember"]

PASSWORD = "quay-row-and-terns"  # noqa: S105 — the demonstration prints it


@dataclass(frozen=True, slots=True)
class StaffMember:
    """One account. `home` bounds what a carer sees."""

    username: str
    name: str
    role: Role
    home: str = ""


STAFF = (
    StaffMember("tess", "Tess Aldous", Role.TECHNICIAN),
    StaffMember("milo", "Milo Farrant", Role.TECHNICIAN),
    StaffMember("carys", "Carys Dunmore", Role.CHECKER),
    StaffMember("priya", "Priya Raman", Role.PHARMACIST),
    StaffMember("hugh", "Hugh Sallow", Role.MANAGER),
    StaffMember("len", "Len Ostler", Role.DRIVER),
    StaffMember("ada", "Ada Brigg", Role.CARER, home="Saltmarsh House"),
    StaffMember("quill", "Morwenna Quill", Role.INSPECTOR),
)
