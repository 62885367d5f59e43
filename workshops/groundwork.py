"""Make .venv and what belongs in it, once. Standard library only: it runs before all else.

``prepare()`` goes on at once when this Python has every version pinned in requirements.txt.
"""

import ctypes
import importlib.util
import os
import re
import shutil
import subprocess
import sys
from importlib.metadata import distributions
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
VENV, PINS = ROOT / ".venv", ROOT / "requirements.txt"
# What draws letters on paper: the file WeasyPrint loads, and the package that brings it.
NATIVE = {
    "libpango-1.0.so.0": "libpango-1.0-0",
    "libpangoft2-1.0.so.0": "libpangoft2-1.0-0",
    "libharfbuzz-subset.so.0": "libharfbuzz-subset0",
}


def missing_pins(pins: Path = PINS) -> list[str]:
    """The pinned packages that this Python lacks or has in another version."""
    wanted = re.findall(r"^([\w.-]+)(?:\[\w+\])?==(\S+)", pins.read_text("utf-8"), re.M)
    here = {re.sub(r"[-_.]+", "-", found.name).lower(): found.version for found in distributions()}
    return [name for name, version in wanted if here.get(name.lower()) != version]


def lacks(library: str) -> bool:
    """Whether this machine cannot load a system library (asked on Linux only)."""
    try:
        return sys.platform == "linux" and not ctypes.CDLL(library)
    except OSError:
        return True


def need_system(packages: list[str], why: str) -> None:
    """Install system packages where we may; else say the one line that does it, and stop."""
    line = ["apt-get", "install", "-y", "--no-install-recommends", *packages]
    if os.name == "nt" or os.geteuid() or not shutil.which("apt-get"):
        sys.exit(f"{why}\nInstall it, then run this again:\n  sudo {' '.join(line)}")
    print(f"{why} Installing {', '.join(packages)} ...", flush=True)
    if subprocess.call(["apt-get", "update", "-q"]) or subprocess.call(line):
        sys.exit(f"That did not work: see above. To try by hand: {' '.join(line)}")


def install() -> None:
    """Install the pinned packages into this Python, saying which one it is at."""
    print("Installing the pinned packages into .venv (once; a minute or two).", flush=True)
    pip = [sys.executable, "-m", "pip", "install", "--disable-pip-version-check", "-r", str(PINS)]
    run = subprocess.Popen(pip, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    said, count, end = [""], 0, "\r" if sys.stdout.isatty() else "\n"
    for line in run.stdout or ():
        said.append(line.rstrip())
        if line.startswith(("Collecting ", "Installing ")):
            count += 1
            print(f"  {count:3} {re.split(r' [(]|:', line.strip())[0]:60.60}", end=end, flush=True)
    if run.wait() or missing_pins():
        sys.exit("\n".join([*said[-12:], "Installing failed: see above; run this again."]))


def prepare() -> None:
    """Go on when everything is here; else set it up and start over inside .venv."""
    python = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    if missing_pins():
        if Path(sys.prefix).resolve() == VENV:
            install()
        elif not python.with_name("pip" + python.suffix).exists():  # pip comes last: broken off
            if not importlib.util.find_spec("ensurepip"):
                need_system([f"python3.{sys.version_info[1]}-venv"], "Python cannot make .venv.")
            print("Making .venv, where Winterbench keeps its packages.", flush=True)
            subprocess.check_call([sys.executable, "-m", "venv", "--clear", str(VENV)])
        os.execv(python, [str(python), *sys.argv])
    if sys.argv[1:2] in (["demo"], ["test"]) and (gone := list(filter(lacks, NATIVE))):
        need_system([NATIVE[name] for name in gone], "Station cards are PDFs and need Pango.")
