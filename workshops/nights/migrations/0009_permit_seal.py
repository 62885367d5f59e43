from django.db import migrations

from workshops.nights.permit.seal import SEAL


def close(apps, schema_editor):
    SEAL.close(schema_editor.connection)


def open_up(apps, schema_editor):
    SEAL.open_up(schema_editor.connection)


class Migration(migrations.Migration):
    """The database refuses to change or delete answers, sparks and signatures."""

    dependencies = [("nights", "0008_old_permits")]

    operations = [migrations.RunPython(close, open_up)]
