from django.db import migrations

from workshops.quality.seal import SEAL


def close(apps, schema_editor):
    SEAL.close(schema_editor.connection)


def open_up(apps, schema_editor):
    SEAL.open_up(schema_editor.connection)


class Migration(migrations.Migration):
    """The database refuses to change or delete what was found."""

    dependencies = [("quality", "0001_checks")]

    operations = [migrations.RunPython(close, open_up)]
