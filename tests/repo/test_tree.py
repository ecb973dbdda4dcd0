"""The shape of the repository: names at the top, length of files, how the README begins, one version."""

import tomllib
from importlib.metadata import version

from tree import ROOT, kept_files

TOP_FILES = {"CMakeLists.txt", "CMakePresets.json", "pyproject.toml", "LICENSE"}
TOP_PAGES = {"README.md", "DEVELOPERS.md", "CHANGELOG.md"}
TOP_FOLDERS = {"cpp", "python", "notebooks", "tests", "benchmarks"}
LONGEST = 500  # lines; most files should stay below 150
CODE = {".cpp", ".hpp", ".py", ".sh", ".cmake"}


def test_the_top_level_holds_only_the_agreed_names():
    names = {path.parts[0] for path in kept_files()}
    assert {name for name in names if not name.startswith(".")} <= TOP_FILES | TOP_PAGES | TOP_FOLDERS


def test_no_source_file_is_longer_than_the_budget():
    lengths = {str(path): len((ROOT / path).read_text().splitlines()) for path in kept_files() if path.suffix in CODE}
    assert lengths
    assert {name: lines for name, lines in lengths.items() if lines > LONGEST} == {}


def test_the_readme_begins_with_its_title_and_the_job_in_one_paragraph():
    title, paragraph = (ROOT / "README.md").read_text().split("\n\n")[:2]
    assert title == "# calmshaft"
    assert len(paragraph) > 200
    assert paragraph[0].isalpha()


def test_the_continuous_check_runs_the_command_that_the_readme_gives():
    assert "bash tests/run.sh" in (ROOT / "README.md").read_text()
    assert (ROOT / ".ci/run").read_text().strip().splitlines()[-1] == "bash tests/run.sh"


def test_package_extension_and_changelog_agree_on_the_version():
    import calmshaft
    from calmshaft import _core

    written = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]["version"]
    assert version("calmshaft") == calmshaft.__version__ == _core.__version__ == written
    assert written in (ROOT / "CHANGELOG.md").read_text()
