"""Tests of workshops.stock."""
