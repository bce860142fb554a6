"""An invented thing: the texts that its recipe asks for, and what shows that it is there."""

from collections.abc import Mapping
from dataclasses import dataclass, field

TOOL = "tool/blankbook/"
_SCHEMAS = "tests/text/test_schemas.py::test_"
SCHEMA_TESTS = (
    f"{_SCHEMAS}only_keywords_of_draft_07_are_used",
    f"{_SCHEMAS}each_schema_is_valid",
    f"{_SCHEMAS}every_property_has_a_title_a_description_and_an_example",
    f"{_SCHEMAS}every_example_is_valid",
    f"{_SCHEMAS}closed_mappings_say_so",
    f"{_SCHEMAS}the_words_file_is_up_to_date",
)


@dataclass(frozen=True, slots=True)
class Addition:
    """A text that goes into one file."""

    path: str
    """Within the project."""
    text: str
    before: str = ""
    """How the line begins before which it goes, the first of that kind; "" for a new file."""
    after: str = ""
    """How a line above that line begins, where the beginning alone would be found too early."""


@dataclass(frozen=True, slots=True)
class Invented:
    """A thing that the project does not have, and what shows that the project has it now."""

    name: str
    """What stands for NAME in the recipe."""
    additions: tuple[Addition, ...]
    tests: tuple[str, ...]
    """What pytest is given: quick tests that know of no such thing by name."""
    arguments: tuple[str, ...]
    """What the program is given, in a small ledger."""
    shows: Mapping[str, str]
    """By place: a text that must be there afterwards. A place is a file below the ledger, or "" for
    what the program prints."""
    ledger: Mapping[str, tuple[str, str]] = field(default_factory=dict)
    """By file of the small ledger: a text of it, and what is put in its place. A text of "" is the
    end of the file, which may be a new one."""
    code: int = 0
    """With what the program ends."""


def in_tool(path: str, text: str, before: str = "", after: str = "") -> Addition:
    """Return what goes into a file of the program."""
    return Addition(TOOL + path, text, before, after)


def in_map(folder: str, line: str) -> Addition:
    """Return a line of the map that a folder's ``__init__`` keeps of its modules."""
    return in_tool(f"{folder}/__init__.py", line + "\n", '"""', after='"""')
