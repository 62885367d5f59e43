#!/usr/bin/env python3
"""Every command of Winterbench: python3 manage.py demo | test | start | serve | help.

The first one sets up what is missing, so a fresh clone needs only Python: see
``workshops/groundwork.py``.
"""

import os
import sys

if sys.version_info < (3, 11):  # noqa: UP036  # said before anything newer is imported
    sys.exit("Winterbench needs Python 3.11 or newer: this one is " + sys.version.split()[0])

from workshops import groundwork

if __name__ == "__main__":
    groundwork.prepare()
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "workshops.settings")
    from django.core.management import execute_from_command_line
    from django.db.utils import OperationalError

    from workshops.environment import EnvironmentRefused

    try:
        execute_from_command_line(sys.argv)
    except EnvironmentRefused as refused:
        sys.exit(str(refused))
    except OperationalError as error:
        if "--traceback" in sys.argv:
            raise
        said = " ".join(str(error).split())
        sys.exit(f"The database cannot be used ({said}). Look at what DATABASE_URL says.")
