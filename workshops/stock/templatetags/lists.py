"""The badge of a row's fate: word and shape before colour."""

from __future__ import annotations

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString

from workshops.stock.exchange.fates import Fate
from workshops.stock.exchange.kinds import ListKind

register = template.Library()


@register.simple_tag
def fate(row_fate: Fate, kind: ListKind) -> SafeString:
    """The fate in the words of its list: ``{% fate row.fate preview.kind %}``."""
    return format_html(
        '<span class="wb-fate wb-fate--{}"><span aria-hidden="true">{}</span>{}</span>',
        row_fate.value, row_fate.shape, kind.words[row_fate],
    )  # fmt: skip
