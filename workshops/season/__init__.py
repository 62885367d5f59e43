"""The winter: target, outlook and, later, pace and reports.

A *winter* has targets (so many of each set), a ready-by band of dates and an ice band.
The *outlook* is a band of finished sets by night, from ten thousand drawn winters.
Neighbours: nights and needs below; paper and home show it.
"""
