"""Tests of Winterbench; the folders mirror the source. Kept as a package on purpose:
without it ``tests/workshops`` would shadow the real package."""
