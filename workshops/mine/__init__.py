"""Mine: what a volunteer sees and says without a password, by a link that came by e-mail.

Words: my nights (yes, maybe, no), my sign-offs, my hours, my calendar, my details.
Neighbours: people and nights below, whose actions write everything said here.
"""
