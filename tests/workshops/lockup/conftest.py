"""The scene of a night and its browsers, as the tests of nights have them."""

from tests.workshops.nights.conftest import guest, lead, scene

__all__ = ["guest", "lead", "scene"]
