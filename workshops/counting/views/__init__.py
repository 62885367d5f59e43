"""Pages of the slice, by what is done on them."""
