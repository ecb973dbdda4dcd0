"""Every notebook runs from top to bottom."""

from pathlib import Path

import nbformat
import pytest
from nbclient import NotebookClient

NOTEBOOKS = sorted((Path(__file__).parents[2] / "notebooks").glob("*.ipynb"))


def test_there_are_notebooks():
    assert NOTEBOOKS


@pytest.mark.filterwarnings("ignore")  # of the notebook server's own packages
@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_a_notebook_runs_and_shows_pictures(path):
    notebook = nbformat.read(path, as_version=4)
    assert not any(cell.get("outputs") for cell in notebook.cells)  # committed without outputs
    NotebookClient(notebook, timeout=300, kernel_name="python3").execute()
    shown = [output for cell in notebook.cells for output in cell.get("outputs", []) if "data" in output]
    assert any("image/png" in output["data"] for output in shown)
