"""Items and recipes in the admin."""

from __future__ import annotations

from django.contrib import admin

from inventory.materials.models import Item, Recipe, RecipeLine


class RecipeLineInline(admin.TabularInline[RecipeLine, Recipe]):
    """What a recipe consumes."""

    model = RecipeLine
    extra = 0


@admin.register(Item)
class ItemAdmin(admin.ModelAdmin[Item]):
    """Items by shop and kind."""

    list_display = ["name", "size", "shop", "kind", "group", "unit", "home"]
    list_filter = ["shop", "kind", "group"]
    search_fields = ["name"]
    prepopulated_fields = {"slug": ["name"]}


@admin.register(Recipe)
class RecipeAdmin(admin.ModelAdmin[Recipe]):
    """Recipes with their lines."""

    list_display = ["name", "shop", "output", "is_in_use"]
    list_filter = ["shop", "is_in_use"]
    inlines = [RecipeLineInline]
