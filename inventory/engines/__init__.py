"""What every engine shares: strict reading of problems, stopping, and one door to HiGHS.

``strict``, ``stop`` and ``milp`` are pure (standard library and highspy, never Django);
``models`` has the abstract row in which a slice keeps each run of its engine.
"""
