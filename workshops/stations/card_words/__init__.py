"""The default words of the station cards, by the stuff that is worked. Our own words."""
