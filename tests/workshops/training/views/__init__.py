"""Pages of training."""
