"""What we have: the ground floor. It knows nothing of nights, people or winters.

Floors, lowest first: measures, engines, places, materials, ledger, cutting, needs.
"""
