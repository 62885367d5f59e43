"""Counting: taps on tablets with and without the network, and paper typed in beside them.

Words: tablet, tap (one press, numbered by its tablet), burst (taps booked as one count), sheet.
Neighbours: nights below, whose counts the book is made of; paper prints the sheets.
"""
