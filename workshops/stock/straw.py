"""The straw watch: how each lot stands, which way it goes, and when to look again."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal

from inventory.ledger.models import Balance
from inventory.materials.models import Item
from inventory.measures.temperatures import spell_temperature, step_in_degrees
from inventory.places.models import Shop
from inventory.readings.models import Reading
from inventory.readings.queries import Lot, lots_of, probed_lots
from workshops.club.queries import Rules, rules_of
from workshops.stations.guidance.hay import HayHeat, Heat, damp_words, heat_of, levels_of
from workshops.stock.filling import Fibre, fibre_of

STEADY_F = Decimal(2)  # less is within what two probings of one stack differ by


@dataclass(frozen=True, slots=True)
class Watched:
    """One lot as the watch sees it; ``due`` is ``None`` where there is nothing to wait for."""

    lot: Lot
    degrees: str
    heat: HayHeat | None
    damp: str
    due: datetime | None
    now: datetime

    @property
    def is_overdue(self) -> bool:
        """Whether it should have been probed by now; always so when it never was."""
        return self.lot.last is None or (self.due is not None and self.due < self.now)

    @property
    def is_alarm(self) -> bool:
        """Whether it is so warm that somebody has to do something."""
        return self.heat is not None and self.heat.heat >= Heat.WARM

    @property
    def state(self) -> str:
        """One of the site's states."""
        if self.heat is not None and self.heat.heat >= Heat.DANGER:
            return "closed"
        return "short" if self.is_alarm or self.damp or self.is_overdue else "open"

    @property
    def word(self) -> str:
        """What the badge says; never that there is no danger."""
        if self.heat is not None and self.heat.call_fire_service:
            return "call the fire service"
        if self.is_alarm:
            return "danger" if self.state == "closed" else "warm"
        if self.lot.last is None:
            return "never probed"
        return "probe it now" if self.is_overdue else "damp" if self.damp else "below the marks"

    @property
    def temperature(self) -> str:
        """The warmest spot of the last round, in the shop's degrees."""
        return _spelled(self.lot.warmest, self.degrees)

    @property
    def moisture(self) -> Decimal | None:
        """The dampest spot of the last round."""
        return self.lot.dampest.moisture_percent if self.lot.dampest else None

    @property
    def trend(self) -> str:
        """``6 °F warmer than 12 hours before``; empty after a single round."""
        now, before = self.lot.warmest, self.lot.warmest_before
        if now is None or before is None:
            return ""
        return _trend(now, before, self.degrees)


@dataclass(frozen=True, slots=True)
class StrawWatch:
    """Every lot, the ones that somebody has to go to first, and the volume of all of them."""

    rows: tuple[Watched, ...]
    fibre: Fibre
    rules: Rules


def straw_watch(shop: Shop, now: datetime) -> StrawWatch:
    """The watch of a shop. 4 queries; no rows when there is neither straw nor hay."""
    rules = rules_of(shop)
    rows = [watched(lot, rules, now) for lot in lots_of(shop)]
    spots = Balance.objects.filter(item__shop=shop, item__kind=Item.Kind.FILL, quantity__gt=0)
    fibre = fibre_of(spots.select_related("item__shop"), rules)
    return StrawWatch(tuple(sorted(rows, key=_urgency)), fibre, rules)


def straw_alarms(shop: Shop, now: datetime) -> list[Watched]:
    """Lots that are warm, the warmest first. 2 queries; 1 where nothing was ever probed."""
    lots = probed_lots(shop)
    rules = rules_of(shop) if lots else None
    rows = [watched(lot, rules, now) for lot in lots] if rules else []
    return sorted((row for row in rows if row.is_alarm), key=_urgency)


def watched(lot: Lot, rules: Rules, now: datetime) -> Watched:
    """How one lot stands by the club's rules. No query."""
    warm, damp = lot.warmest, lot.dampest
    degrees_f = warm.temperature_f if warm else None
    heat = None if degrees_f is None else heat_of(degrees_f, levels_of(rules))
    moisture = damp.moisture_percent if damp else None
    most = rules.bale_moisture_max_percent
    words = "" if moisture is None else damp_words(moisture, most_percent=most)
    return Watched(lot, rules.temperature_unit, heat, words, _due(lot, heat, rules), now)


def _due(lot: Lot, heat: HayHeat | None, rules: Rules) -> datetime | None:
    """When to probe again: hours after the warmest spot, else the club's days."""
    # A stack that is the fire service's is not probed again by volunteers.
    if lot.last is None or (heat is not None and heat.call_fire_service):
        return None
    if heat is not None and heat.every_hours is not None and lot.warmest is not None:
        return lot.warmest.probed_at + timedelta(hours=heat.every_hours)
    return lot.last.probed_at + timedelta(days=rules.hay_look_days)


def _urgency(row: Watched) -> tuple[int, bool, datetime, str]:
    heat = row.heat.heat if row.heat else Heat.COOL
    due = row.due or row.now
    return (-heat, not row.is_overdue, due, f"{row.lot.item} {row.lot.place} {row.lot.words}")


def _spelled(reading: Reading | None, degrees: str) -> str:
    if reading is None or reading.temperature_f is None:
        return ""
    return spell_temperature(reading.temperature_f, degrees)


def _trend(now: Reading, before: Reading, degrees: str) -> str:
    more = (now.temperature_f or Decimal()) - (before.temperature_f or Decimal())
    ago = _ago(now.probed_at - before.probed_at)
    if abs(more) < STEADY_F:
        return f"as warm as {ago} before"
    step = step_in_degrees(abs(more), degrees)
    word = "warmer" if more > 0 else "cooler"
    return f"{step:.0f} °{degrees} {word} than {ago} before"


def _ago(since: timedelta) -> str:
    hours = round(since.total_seconds() / 3600)
    if hours < 48:
        return "an hour" if hours <= 1 else f"{hours} hours"
    return f"{round(hours / 24)} days"
