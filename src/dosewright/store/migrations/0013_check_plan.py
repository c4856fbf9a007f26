"""When a mark or a key was taken, so that it can be forgotten one day; and room for national codes that are no trade item numbers."""

import django.utils.timezone
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("store", "0012_near_misses")]

    operations = [
        migrations.AddField("attempt", "at", models.DateTimeField(db_index=True, default=django.utils.timezone.now)),
        migrations.AddField("requestkey", "at", models.DateTimeField(db_index=True, default=django.utils.timezone.now)),
        migrations.AlterField("medicinecoderow", "gtin", models.CharField(max_length=24, primary_key=True, serialize=False)),
        migrations.AlterField("taughtcoderow", "gtin", models.CharField(db_index=True, max_length=24)),
    ]
