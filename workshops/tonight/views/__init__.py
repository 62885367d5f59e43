"""Pages of the slice."""
