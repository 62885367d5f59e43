"""Burglars: random sequences through every public action and address, and who must stay out."""
