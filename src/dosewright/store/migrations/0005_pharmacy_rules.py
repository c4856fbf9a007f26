import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("store", "0004_wordings"),
    ]

    operations = [
        migrations.AddField(
            model_name="rulebook",
            name="own",
            field=models.TextField(blank=True, default=""),
        ),
        migrations.CreateModel(
            name="OrderAnswer",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("about", models.CharField(max_length=120)),
                ("dated", models.CharField(max_length=200)),
                ("choice", models.CharField(max_length=10)),
                ("reason", models.TextField()),
                ("order", models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name="answers", to="store.orderrow")),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(fields=("order", "about"), name="one_answer_an_order_and_rule"),
                    models.CheckConstraint(
                        condition=models.Q(("choice__in", ["card", "alongside"]), models.Q(("reason", ""), _negated=True)),
                        name="answer_has_its_reason",
                    ),
                ],
            },
        ),
    ]
