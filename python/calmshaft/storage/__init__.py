"""Sweeps on disk: finished chunks in a folder, what they belong to, and the one file they become."""

from calmshaft.storage.complete import complete
from calmshaft.storage.into_file import parts_of, sweep_into
from calmshaft.storage.manifest import manifest_of

__all__ = ["complete", "manifest_of", "parts_of", "sweep_into"]
