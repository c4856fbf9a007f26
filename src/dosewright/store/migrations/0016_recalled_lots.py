"""A lot that is recalled is held: why, in words; "" for every other."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("store", "0015_token_of_a_token")]

    operations = [migrations.AddField("stocklot", "recalled", models.TextField(blank=True, default=""))]
