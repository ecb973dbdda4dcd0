"""The machine that a figure was had on."""

from __future__ import annotations

import platform
from pathlib import Path


def machine() -> dict[str, str]:
    """Processor, system and Python in words."""
    return {"processor": _processor(), "system": platform.platform(), "python": platform.python_version()}


def _processor() -> str:
    listed = Path("/proc/cpuinfo")
    for line in listed.read_text(encoding="utf-8").splitlines() if listed.exists() else []:
        if line.startswith("model name"):
            return line.split(":", 1)[1].strip()
    return platform.processor()
