"""Pages of the slice: reporting, one incident, the day after."""
