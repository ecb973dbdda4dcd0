"""Runs the published checks and writes their table: `python tests/published/table.py --out published.md`."""

import argparse
import sys
from pathlib import Path

import pytest

from published_rows import ROWS, markdown


class Writer:
    """Writes the table when the checks are through."""

    def __init__(self, out: Path):
        self.out = out

    def pytest_unconfigure(self, config):
        self.out.write_text(markdown(config.stash[ROWS]))


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--out", type=Path, default=Path("published.md"), help="Markdown file to write")
    out = parser.parse_args().out
    failed = pytest.main([str(Path(__file__).parent), "-q", "--no-header"], plugins=[Writer(out)])
    print(f"wrote {out}")
    return int(failed)


if __name__ == "__main__":
    sys.exit(main())
