"""The demo winter: an invented club, half a winter in, loaded from ``fixtures/demo_winter``.

``load.load_demo`` is the way in. One module for each file: it reads what people would type
(lengths as text, weeks counted from the day of loading) and makes the rows of it.
"""
