"""How several workers share the tests: by whole files, and some folders whole."""

from __future__ import annotations

from pathlib import PurePosixPath

from xdist.scheduler import LoadScopeScheduling

# Each of these sets something up once for all of its files: a site and Chromium, servers, the demo.
TOGETHER = ("tests/browser", "tests/services", "tests/workshops/home/demo")


class ByFile(LoadScopeScheduling):
    """A file stays with one worker, so that what is made once for it is made once."""

    def _split_scope(self, nodeid: str) -> str:
        return stays_with(nodeid)


def stays_with(nodeid: str) -> str:
    """The file of a test, or the folder that must not be split between workers."""
    path = PurePosixPath(nodeid.partition("::")[0])
    for folder in TOGETHER:
        if path.is_relative_to(folder):
            return folder
    return str(path)
