"""Why a stocktake refuses, each refusal a sentence a person can act on."""

from __future__ import annotations


class StocktakeRefused(ValueError):
    """Something that cannot be done with a count. Nothing of it is written."""


class SamePerson(StocktakeRefused):
    """One person on both counts of a sheet, without the coordinator's word."""
