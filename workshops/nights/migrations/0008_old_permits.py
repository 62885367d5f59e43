from django.db import migrations


def tell_as_rows(apps, schema_editor):
    """Permits from before have their watch, last spark and signature as rows too."""
    Permit = apps.get_model("nights", "HotWorkPermit")
    Turn, Spark = apps.get_model("nights", "WatchTurn"), apps.get_model("nights", "Spark")
    Note, Station = apps.get_model("nights", "WatchNote"), apps.get_model("stations", "Station")
    for permit in Permit.objects.select_related("night").iterator():
        if Turn.objects.filter(permit=permit).exists():
            continue
        ended = permit.watch_ended_at
        # A signature from before the opening was a mistake of a clock: the turn has no length.
        Turn.objects.create(
            permit=permit, person_id=permit.watcher_id, from_at=permit.opened_at,
            until_at=ended and max(ended, permit.opened_at),
            why_ended="the end was signed" if ended else "",
        )
        hot = Station.objects.filter(shop_id=permit.night.shop_id, is_spark=True)
        station = hot.order_by("sequence", "pk").first()
        if permit.last_spark_at and station:
            Spark.objects.create(
                permit=permit, station=station, at=permit.last_spark_at,
                struck_by=permit.watch_signed_by or permit.opened_by,
                recorded_at=ended or permit.last_spark_at,
            )
        if ended:
            Note.objects.create(
                permit=permit, kind="end", at=ended, signed_by=permit.watch_signed_by
            )
        if permit.last_spark_at:
            Permit.objects.filter(pk=permit.pk).update(is_last_called=True)


class Migration(migrations.Migration):
    """What old permits say is told as rows."""

    dependencies = [("nights", "0007_hot_work")]

    operations = [migrations.RunPython(tell_as_rows, migrations.RunPython.noop)]
