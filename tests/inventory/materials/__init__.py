"""Tests of inventory.materials."""
