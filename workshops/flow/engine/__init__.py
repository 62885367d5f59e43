"""What comes to and goes from each rack, worked out from rates. Knows no database."""
