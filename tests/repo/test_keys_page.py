"""The page of keys says what the schema says."""

from typer.testing import CliRunner

from calmshaft.app import app
from tree import ROOT


def test_the_page_of_keys_is_that_of_the_schema():
    fresh = CliRunner().invoke(app, ["schema", "--page"]).stdout
    kept = (ROOT / "python/docs/keys.md").read_text()
    assert kept == fresh, "renew it: calmshaft schema --page > python/docs/keys.md"
