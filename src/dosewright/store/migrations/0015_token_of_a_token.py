"""By which other token a program made this one: it ends with it."""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("store", "0013_check_plan")]

    operations = [
        migrations.AddField(
            "apitoken",
            "maker",
            models.ForeignKey(null=True, on_delete=django.db.models.deletion.PROTECT, related_name="made", to="store.apitoken"),
        ),
    ]
