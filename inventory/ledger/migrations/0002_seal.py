from django.db import migrations

from inventory.ledger import seal


def close(apps, schema_editor):
    seal.close(schema_editor.connection)


def open_up(apps, schema_editor):
    seal.open_up(schema_editor.connection)


class Migration(migrations.Migration):
    """The database refuses to change or delete what was posted."""

    dependencies = [("ledger", "0001_initial")]

    operations = [migrations.RunPython(close, open_up)]
