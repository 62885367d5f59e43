"""The scene of a night, as the tests of nights have it."""

from tests.workshops.nights.conftest import scene

__all__ = ["scene"]
