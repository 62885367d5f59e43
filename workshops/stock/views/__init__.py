"""One module per page of the stock."""
