"""What is shown is run: every notebook and each Python example of the README, in a folder of its own."""

import re
import subprocess
import sys

import nbformat
import pytest
from nbclient import NotebookClient

from tree import ROOT

NOTEBOOKS = sorted((ROOT / "notebooks").glob("*.ipynb"))
EXAMPLES = re.findall(r"^```python\n(.*?)^```", (ROOT / "README.md").read_text(), re.MULTILINE | re.DOTALL)


@pytest.mark.filterwarnings("default")  # the kernel's own packages are not ours to mend
@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_the_notebook_runs_from_top_to_bottom(path, tmp_path):
    notebook = nbformat.read(path, as_version=4)
    NotebookClient(notebook, timeout=300, resources={"metadata": {"path": tmp_path}}).execute()
    assert all(cell.execution_count for cell in notebook.cells if cell.cell_type == "code")


def test_there_is_a_notebook_and_an_example_to_run():
    assert NOTEBOOKS
    assert EXAMPLES


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda text: text.splitlines()[0][:40])
def test_the_example_of_the_readme_runs(example, tmp_path):
    run = subprocess.run([sys.executable, "-c", example], cwd=tmp_path, capture_output=True, text=True, timeout=300)
    assert run.returncode == 0, run.stderr
