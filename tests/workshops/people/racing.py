"""A stop against whoever lets somebody in, at one moment, in a process and database of its own.

In each race one side has written and not yet committed when the other begins; afterwards it
is told who won. A last race has no order: three tablets press at once, many times.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys

from workshops.environment import BASE

RUN = """
import json, threading, time
import django
django.setup()
from datetime import date
from django.core.management import call_command
from django.db import connection, transaction
from django.utils import timezone
from tests.factories import make_shop
from tests.workshops.nights.hot import open_permit
from tests.workshops.nights.scene import make_scene
from workshops.nights import actions as nights
from workshops.nights.actions import placing
from workshops.nights.models import HotWorkPermit, Placing
from workshops.people import actions as people
from workshops.people.models import Bar, SignOff
from workshops.stations.models import Level, StationStop

call_command("migrate", verbosity=0)
today = timezone.localdate()
scene = make_scene(make_shop())
scene.night.date = today
scene.night.save()
for row in scene.shop.person_set.all():
    row.waivers.create(shop=scene.shop, version="1", signed_on=today, valid_until=date(2099, 1, 1))
    for line in list(row.sign_offs.all()):
        SignOff.objects.create(
            shop=scene.shop, person=row, station=line.station, level=line.level,
            signed_on=today, evidence="paper")
sig = scene.join("Sig")
for station in (scene.drill, scene.weld, scene.watch):
    SignOff.objects.create(shop=scene.shop, person=sig, station=station, level=Level.MAY_SIGN,
                           signed_on=today, evidence="paper")
Bo, Cy, Dee = (scene.people[name] for name in ("Bo", "Cy", "Dee"))
given = {"set_by": "C", "by": None, "reason": "x"}

def place(): nights.place(
    night=scene.night, block=scene.blocks[0], person=Bo, station=scene.weld)
def plan(): nights.plan_night(night=scene.night, by=None, seconds=0.5)
def permit(): open_permit(scene.night, Cy, timezone.now())
def sign(): people.sign_off(
    person=Dee, station=scene.drill, level=3, signed_by=sig, on=today, evidence="x", by=None)
def sign_in(): told.append(
    nights.sign_in(night=scene.night, person=Bo, at=timezone.now()).cautions)
def bar(person, station=None):
    return lambda: people.set_bar(person=person, station=station, **given)
def close(station): return lambda: nights.stop_work(
    night=scene.night, station=station, reason="x", stopped_by="C", at=scene.at("17:00"),
    tonight_only=True)
told = []

def race(first, second):
    "The second begins while the first has written and not committed."
    written, said = threading.Event(), []
    def one():
        with transaction.atomic():
            first()
            written.set()
            time.sleep(0.4)
        connection.close()
    def other():
        written.wait(20)
        try:
            second()
            said.append("done")
        except Exception as refused:
            said.append(type(refused).__name__)
        connection.close()
    threads = [threading.Thread(target=each) for each in (one, other)]
    [each.start() for each in threads]
    [each.join() for each in threads]
    return said[0]

def start_anew():
    Placing.objects.all().delete()
    HotWorkPermit.objects.filter(sparks=None).delete()
    for row in Bar.objects.filter(lifted_at=None):
        people.lift_bar(bar=row, lifted_by="C", by=None)
    StationStop.objects.all().delete()

def at_weld(): return Placing.objects.filter(person=Bo, station=scene.weld).count()

found = {}
found["bar, then place"] = [race(bar(Bo, scene.weld), place), at_weld()]
start_anew()
found["place, then bar"] = [race(place, bar(Bo, scene.weld)), at_weld()]
start_anew()
found["bar, then plan"] = [race(bar(Bo), plan), Placing.objects.filter(person=Bo).count()]
start_anew()
found["bar, then permit"] = [race(bar(Cy), permit), HotWorkPermit.objects.count()]
start_anew()
found["bar of the signer, then sign"] = [race(bar(sig), sign), Dee.sign_offs.count()]
start_anew()
race(bar(Bo), sign_in)
found["bar, then sign in"] = ["barred" in " ".join(told[-1]), 0]
start_anew()

found["station closed, then place"] = [race(close(scene.weld), place), at_weld()]
start_anew()
found["place, then station closed"] = [race(place, close(scene.weld)), at_weld()]
start_anew()
found["station closed, then plan"] = [race(close(scene.weld), plan), at_weld()]
start_anew()
found["watch closed, then permit"] = [
    race(close(scene.watch), permit), HotWorkPermit.objects.count()]
start_anew()

# A spark told at the moment of lock-up: the night stays open, or the spark is refused.
def signed_watch():
    # Answers are sealed and stay; a permit needs them once.
    row = open_permit(scene.night, Cy, scene.at("18:10"))
    spark("20:00", "20:00")
    nights.end_watch(permit=row, at=scene.at("21:00"), signed_by="Cy")
def spark(clock, at): nights.tell_spark(
    night=scene.night, station=scene.weld, struck_by="Bo", spark_at=scene.at(clock),
    at=scene.at(at))
def late(): spark("20:40", "21:05")
def lock_up(): nights.close_night(
    night=scene.night, words="x", written_by="D", at=scene.at("21:06"))
def status(): return type(scene.night).objects.get(pk=scene.night.pk).status
scene.night.roll.all().delete()
signed_watch()
found["late spark, then lock-up"] = [race(late, lock_up), status()]
permit_row = HotWorkPermit.objects.get()
nights.take_watch(permit=permit_row, watcher=Cy, at=scene.at("21:10"))
nights.end_watch(permit=permit_row, at=scene.at("22:10"), signed_by="Cy")
found["lock-up, then late spark"] = [race(lock_up, late), status()]
type(scene.night).objects.update(status="planned")
scene.night.refresh_from_db()
HotWorkPermit.objects.get().turns.all().delete()

# The engine has the night in hand, and somebody is barred before it is done.
solve = placing.solve
def slowly(*args, **kwargs):
    plan_made = solve(*args, **kwargs)
    stopper = threading.Thread(target=lambda: (bar(Bo)(), connection.close()))
    stopper.start()
    stopper.join()
    return plan_made
placing.solve = slowly
plan()
placing.solve = solve
found["bar while the engine works"] = ["done", Placing.objects.filter(person=Bo).count()]

left, presses = 0, 12
for _ in range(presses):
    start_anew()
    start = threading.Barrier(3)
    def press(act):
        start.wait()
        try:
            act()
        except Exception:
            pass
        connection.close()
    threads = [threading.Thread(target=press, args=(act,)) for act in (place, place, bar(Bo))]
    [each.start() for each in threads]
    [each.join() for each in threads]
    assert Bar.objects.filter(lifted_at=None).count() == 1
    left += Placing.objects.filter(person=Bo).count()
found["three at once"] = [presses, left]
print(json.dumps(found))
"""


def outcome_of(database_url: str) -> dict[str, list[object]]:
    """How each race ended on that database: what the second was told, and who stands there."""
    environment = os.environ | {
        "DATABASE_URL": database_url,
        "DJANGO_SETTINGS_MODULE": "workshops.settings",
        "PYTHONPATH": str(BASE),
    }
    ran = subprocess.run(
        [sys.executable, "-c", RUN],
        capture_output=True, text=True, env=environment, cwd=BASE, timeout=120, check=False,
    )  # fmt: skip
    assert ran.returncode == 0, ran.stderr
    return dict(json.loads(ran.stdout))


# How they must all end, whichever the database.
STOP_WINS = {
    "bar, then place": ["PlacingRefused", 0],
    "place, then bar": ["done", 0],
    "bar, then plan": ["done", 0],
    "bar, then permit": ["NightRefused", 0],
    "bar of the signer, then sign": ["CannotSign", 0],
    "bar, then sign in": [True, 0],
    "station closed, then place": ["PlacingRefused", 0],
    "place, then station closed": ["done", 0],
    "station closed, then plan": ["done", 0],
    "watch closed, then permit": ["NightRefused", 0],
    "late spark, then lock-up": ["NightRefused", "planned"],
    "lock-up, then late spark": ["NightRefused", "closed"],
    "bar while the engine works": ["done", 0],
    "three at once": [12, 0],
}
