"""The forms of the stock's pages; each says what is wrong in one sentence."""
