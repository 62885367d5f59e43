"""Accounts and roles in the administration."""

from __future__ import annotations

from django.contrib import admin
from django.contrib.auth.admin import UserAdmin

from workshops.access.models import Membership, User


class MembershipInline(admin.TabularInline[Membership, User]):
    model = Membership
    extra = 0


@admin.register(User)
class WinterbenchUserAdmin(UserAdmin[User]):
    inlines = [MembershipInline]


@admin.register(Membership)
class MembershipAdmin(admin.ModelAdmin[Membership]):
    list_display = ["user", "shop", "role"]
    list_filter = ["shop", "role"]
