"""Pages of the slice: what is due, one check, what is held back."""
