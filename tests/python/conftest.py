"""What all Python tests share."""

import pytest


@pytest.fixture(autouse=True)
def wide_screen(monkeypatch):
    """Words of the command line stand on one line, however wide; test_page_text has those of 80 columns."""
    monkeypatch.setenv("COLUMNS", "1000")
