"""Pages of the slice: calendar, board, roll, tally."""
