"""When a drawing changes: what was made to the old one, and what becomes of it.

Words: a fate is use up, rework or scrap; a spot is what lies in one place in one condition.
Neighbours: build sheets to the left; the fates are posted through the ledger's actions.
"""
