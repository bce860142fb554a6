"""What the help of each command ends with: where the handbook explains it."""

from blankbook.words.handbook_topics import COMMAND_TOPICS, TOPICS


def epilog_of(command: str) -> str:
    """Return the line that names the topic of a command, given the words it is called with."""
    topic = COMMAND_TOPICS[command]
    return f"Handbook: {TOPICS[topic].title} (blankbook help {topic})"
