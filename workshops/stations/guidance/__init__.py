"""Figures of published rules that cards print and the gate leans on: shade, fire, noise, hay.

Pure Python. US rules bind employers; a club adopts them as its own policy and may set
darker, longer or lower. Nothing here says that something is without danger.
"""
