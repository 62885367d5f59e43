"""One file for each page of the stock."""
