"""Collects every published value that a test compares, and prints them as one table."""

import pytest

ROWS = pytest.StashKey[list]()


def pytest_configure(config):
    config.stash[ROWS] = []


@pytest.fixture
def compare(request):
    """compare(name, ours, published, tolerance, source): asserts, and remembers the row for the table."""

    def check(name, ours, published, tolerance, source):
        scale = abs(published) if published else 1.0
        request.config.stash[ROWS].append((name, ours, published, (ours - published) / scale, source))
        assert abs(ours - published) <= tolerance * scale, f"{name}: ours {ours}, published {published} ({source})"

    return check


def pytest_terminal_summary(terminalreporter, config):
    rows = config.stash[ROWS]
    if not rows:
        return
    terminalreporter.section(f"published values: {len(rows)} compared")
    for name, ours, published, difference, source in rows:
        numbers = f"ours {ours:14.8g}  published {published:14.8g}  {difference:+.1e}"
        terminalreporter.write_line(f"{name:44} {numbers}  {source}")
