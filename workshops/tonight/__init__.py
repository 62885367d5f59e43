"""Tonight: which stations open, who could still be asked, what a "not coming" changes, snow.

Words: open, short, closed; gap, ask, cold plan, called off.
Neighbours: people, nights, season and training below.
"""
