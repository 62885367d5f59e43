"""Tests of inventory.places."""
