"""Commands about the book."""
