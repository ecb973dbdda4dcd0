"""Judgements say within, near, over or not judged; nothing that we print says more than that."""

import ast
import re

import pytest

from tree import ROOT, kept_files

# Words that promise what no calculation can. A numerical run may be "failed"; that is no judgement of a part.
TOO_MUCH = re.compile(r"\b(pass|passed|fails?|approved|certified|safe|safely|permitted|guaranteed)\b", re.IGNORECASE)
STATUS_FAILED = re.compile(r"\bfailed\b")
SHOWN = [path for path in kept_files() if str(path).startswith("python/calmshaft")]


def texts(path):
    """Every string of a Python file but its docstrings, with the line it stands in."""
    tree = ast.parse((ROOT / path).read_text())
    documented = (ast.Module, ast.ClassDef, ast.FunctionDef)
    docs = {id(node.body[0].value) for node in ast.walk(tree) if isinstance(node, documented) and node.body
            and isinstance(node.body[0], ast.Expr)}  # fmt: skip
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in docs:
            yield node.lineno, node.value


@pytest.mark.parametrize("path", [path for path in SHOWN if path.suffix == ".py"], ids=str)
def test_no_text_of_the_program_says_more_than_was_found(path):
    assert not [(line, text) for line, text in texts(path) if TOO_MUCH.search(text)]


@pytest.mark.parametrize("path", [path for path in SHOWN if path.suffix in (".html", ".txt", ".css")], ids=str)
def test_no_page_of_the_program_says_more_than_was_found(path):
    visible = re.sub(r"<style>.*?</style>|\{%.*?%\}", " ", (ROOT / path).read_text(), flags=re.DOTALL)
    assert not TOO_MUCH.findall(visible)
    assert not STATUS_FAILED.findall(visible)


def test_the_words_that_are_looked_for_would_be_found():
    assert all(TOO_MUCH.search(text) for text in ("The plate is safe", "Approved.", "it Passed"))
