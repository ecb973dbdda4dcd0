"""Collects every published value that a test compares, and prints them as one table."""

import pytest

from published_rows import HAD, ROWS, Row


def pytest_configure(config):
    config.stash[ROWS] = []


@pytest.fixture
def compare(request):
    """compare(name, ours, published, tolerance, source): asserts, and remembers the row for the table.

    `tolerance` is a share of the published value, or a Tolerance that says more. `source` names author and title, and
    says how the number was had: seen, from memory, or a closed form.
    """
    group = request.module.__doc__.splitlines()[0]

    def check(name, ours, published, tolerance, source):
        row = Row(group, name, float(ours), float(published), tolerance, source)
        request.config.stash[ROWS].append(row)
        assert row.had != "not said", f"{name}: say how its source was had, one of {', '.join(HAD)}"
        assert row.holds(), f"{name}: ours {ours}, published {published} ({source})"

    return check


def pytest_terminal_summary(terminalreporter, config):
    rows = config.stash[ROWS]
    if not rows:
        return
    terminalreporter.section(f"published values: {len(rows)} compared")
    for row in rows:
        numbers = f"ours {row.ours:14.8g}  published {row.published:14.8g}  {row.difference:+.1e}"
        terminalreporter.write_line(f"{row.name:44} {numbers}  {row.source}")
