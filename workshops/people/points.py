"""The points of a station: what an authoriser wants to see before signing."""

from __future__ import annotations

from workshops.stations.models import Station


def points_of(station: Station) -> list[str]:
    """Each key point of the station's operations and each caution, once: one query.

    They are the station's own words, the ones on its card; empty where it has none.
    """
    found: list[str] = []
    for steps in station.operations.filter(is_in_use=True).values_list("steps", flat=True):
        found += [_spelled(each) for each in steps if each.get("key_point")]
    found += [str(each["text"]) for each in station.cautions if each.get("text")]
    return list(dict.fromkeys(found))


def _spelled(step: dict[str, str]) -> str:
    return f"{step['step']}: {step['key_point']}" if step.get("step") else step["key_point"]
