"""Where things stand in the repository; shared by the checks beside it."""

import subprocess
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def kept_files() -> list[Path]:
    """Files committed or about to be (not ignored), as paths relative to the top of the repository."""
    command = ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"]
    listed = subprocess.run(command, cwd=ROOT, check=True, capture_output=True, text=True).stdout
    return [Path(name) for name in listed.split("\0") if name and (ROOT / name).is_file()]


def public_headers() -> list[Path]:
    """Headers that a C++ user can include."""
    return sorted((ROOT / "cpp/include/calmshaft").glob("*/*.hpp"))
