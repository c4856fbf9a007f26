"""The database refuses to change or delete a ledger entry."""

from django.db import migrations
from django.db.backends.base.schema import BaseDatabaseSchemaEditor
from django.db.migrations.state import StateApps

from dosewright.store.guards import guard_ledger, unguard_ledger


def _on(apps: StateApps, schema_editor: BaseDatabaseSchemaEditor) -> None:
    guard_ledger(schema_editor.connection)


def _off(apps: StateApps, schema_editor: BaseDatabaseSchemaEditor) -> None:
    unguard_ledger(schema_editor.connection)


class Migration(migrations.Migration):
    dependencies = [("store", "0001_first")]
    operations = [migrations.RunPython(_on, _off)]
