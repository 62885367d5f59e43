from django.db import migrations

from inventory.stocktake.seal import SEAL


def close(apps, schema_editor):
    SEAL.close(schema_editor.connection)


def open_up(apps, schema_editor):
    SEAL.open_up(schema_editor.connection)


class Migration(migrations.Migration):
    """The database refuses to change or delete what was written down."""

    dependencies = [("stocktake", "0001_initial")]

    operations = [migrations.RunPython(close, open_up)]
