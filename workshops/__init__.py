"""Who does what, and when; also the Django project package.

Floors, lowest first: common, access, club, stations, people, nights, season, paper, home.
"""
