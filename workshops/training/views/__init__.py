"""Views of the slice."""
