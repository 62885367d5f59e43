from django.db import migrations

from workshops.people import seal


def close(apps, schema_editor):
    seal.close(schema_editor.connection)


def open_up(apps, schema_editor):
    seal.open_up(schema_editor.connection)


class Migration(migrations.Migration):
    """The database refuses to change or erase what was signed."""

    dependencies = [("people", "0002_register")]

    operations = [migrations.RunPython(close, open_up)]
