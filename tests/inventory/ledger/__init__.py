"""Tests of inventory.ledger."""
