"""Pages of people and sign-offs: ``pages`` reads, ``keeping`` and ``register`` write."""
