"""Every public number of a C++ struct says its unit in brackets, on its line or in the comment above.

Private members, whose names end in an underscore, are left to their authors.
"""

import re

from tree import ROOT, public_headers

NUMBER = r"(?:const\s+)?(?:std::(?:optional|vector|array)<\s*)*double\b"
FIELD = re.compile(rf"^\s*{NUMBER}[^;()=]*\w(?<!_)\s*[;={{\[]")
UNIT = re.compile(r"//.*\[[^\]]+\]")
OPENS_STRUCT = re.compile(r"\b(?:struct|class)\b[^;{}()]*$")


def fields_without_unit(text: str) -> list[str]:
    """Lines of `text` that declare a struct's number without a unit."""
    scopes: list[bool] = []  # one entry an open brace: does it open a struct?
    pending, above, found = "", "", []
    for line in text.splitlines():
        code, is_comment = line.split("//")[0], line.lstrip().startswith("//")
        if scopes and scopes[-1] and FIELD.match(code) and not UNIT.search(line) and not UNIT.search(above):
            found.append(line.strip())
        above = line if is_comment else ""
        for letter in code + "\n":
            if letter == "{":
                scopes.append(bool(OPENS_STRUCT.search(pending)))
            elif letter == "}" and scopes:
                scopes.pop()
            pending = "" if letter in "{};" else pending + letter
    return found


def test_every_number_in_a_public_struct_has_its_unit():
    missing = {str(path.relative_to(ROOT)): fields_without_unit(path.read_text()) for path in public_headers()}
    assert {name: lines for name, lines in missing.items() if lines} == {}


def test_a_field_without_unit_is_noticed():
    text = "struct Part {\n  double mass = 0;\n  std::vector<double> angles;  // [rad]\n  double area_;\n};\n"
    assert fields_without_unit(text) == ["double mass = 0;"]


def test_a_unit_in_the_comment_above_counts_and_locals_of_functions_need_none():
    text = (
        "struct Part {\n  // Twist of the spring [rad]\n  double twist{};\n"
        "  double f() const { double x = 1; return x; }\n};\n"
        "inline double g() {\n  double y = 2;\n  return y;\n}\n"
    )
    assert fields_without_unit(text) == []
