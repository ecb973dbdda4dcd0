"""C++ compiled while a benchmark runs, for what Python cannot measure: a peer without Python, the machine's peak."""

from __future__ import annotations

import ctypes
import os
import shutil
import subprocess
import sysconfig
import tempfile
from pathlib import Path


def compiler() -> str:
    """The C++ compiler's command: CXX, or g++."""
    return os.environ.get("CXX", "g++")


def compiler_missing() -> str | None:
    """Why nothing can be compiled; None: it can."""
    return None if shutil.which(compiler()) else f"no C++ compiler {compiler()}"


def boost() -> Path | None:
    """The folder with Boost's headers: BOOST_ROOT, the package boost-headers, or the system's."""
    installed = Path(sysconfig.get_paths()["purelib"]) / "boost_headers" / "include"
    asked = [Path(os.environ["BOOST_ROOT"])] if "BOOST_ROOT" in os.environ else []
    places = [*asked, *(place / "include" for place in asked), installed, Path("/usr/include")]
    return next((place for place in places if (place / "boost/numeric/odeint.hpp").exists()), None)


def compiled(source: Path, *flags: str) -> ctypes.CDLL:
    """A C++ file as a loaded library."""
    with tempfile.TemporaryDirectory() as folder:
        library = Path(folder) / f"{source.stem}.so"
        subprocess.run([compiler(), *flags, "-shared", "-fPIC", str(source), "-o", str(library)], check=True)
        return ctypes.CDLL(str(library))
