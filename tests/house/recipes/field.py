"""The room that a round was measured in, a field that no record has."""

from house.recipes.invented import Addition, Invented, in_tool

PROPERTY = """\
    "room": {
      "title": "room",
      "description": "Where the pieces were measured.",
      "examples": ["back room"],
      "type": "string",
      "minLength": 1,
      "maxLength": 60,
      "pattern": "[^\\\\s]"
    },
"""
FIRST_ROUND = "blanks/tarn-thrush/h6/2024-02-12-first.yaml"

ROOM = Invented(
    name="room",
    additions=(
        Addition("schemas/round.schema.json", PROPERTY, '    "note": {'),
        in_tool(
            "records/model/round_record.py", '    room: str = ""\n', "    planned:", "class Round:"
        ),
        in_tool(
            "records/convert/convert_round.py",
            '        room=tree.get("room", ""),\n',
            "        note=",
            "def to_round",
        ),
        Addition(f"ledger/{FIRST_ROUND}", "room: back room\n", "pieces:"),
    ),
    tests=("tests/build/test_public_site.py", "tests/text/test_schemas.py"),
    ledger={FIRST_ROUND: ("", "room: by the north window\n")},
    arguments=("check", "--json"),
    shows={"": '"findings": []'},
)
