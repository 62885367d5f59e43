"""People in the administration: shown and not changed, so that the gate has no back door."""

from __future__ import annotations

from django.contrib import admin

from inventory.places.readonly import ReadOnlyAdmin
from workshops.people.models import Bar, Guardianship, Person, SignOff, Waiver


@admin.register(Person)
class PersonAdmin(ReadOnlyAdmin[Person]):
    list_display = ["last_name", "first_name", "shop", "joined_on", "is_active"]
    list_filter = ["shop", "is_active"]
    search_fields = ["first_name", "last_name"]
    # A look at what is private is written down by the pages; the administration shows none of it.
    exclude = [
        "email", "phone", "born_on", "emergency_contact", "no_dust", "seated_only", "no_heavy",
        "note",
    ]  # fmt: skip


@admin.register(SignOff)
class SignOffAdmin(ReadOnlyAdmin[SignOff]):
    list_display = ["person", "station", "level", "signed_by", "signed_on", "valid_until"]
    list_filter = ["shop", "station", "level"]
    list_select_related = ["person", "station", "signed_by"]


@admin.register(Bar)
class BarAdmin(ReadOnlyAdmin[Bar]):
    list_display = ["person", "station", "reason", "set_by", "set_at", "lifted_at", "lifted_by"]
    list_filter = ["shop"]
    list_select_related = ["person", "station"]


@admin.register(Waiver)
class WaiverAdmin(ReadOnlyAdmin[Waiver]):
    list_display = ["person", "version", "signed_on", "valid_until"]
    list_select_related = ["person"]


@admin.register(Guardianship)
class GuardianshipAdmin(ReadOnlyAdmin[Guardianship]):
    list_display = ["minor", "guardian", "consent_on", "may_collect"]
    list_select_related = ["minor", "guardian"]
