"""What every page shares: base templates and components, jobs, the PDF writer.

A *job* is a piece of work that outlasts a page: it has a row with its progress, runs in
one background thread of the site or on Celery, and can be run again when a restart cut
it off. Neighbours: the lowest floor of workshops; inventory lies below.
"""
