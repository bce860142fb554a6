"""A line that a person types at the table, with arrow keys where the terminal can."""

import os
from collections.abc import Callable
from typing import Any

UP, DOWN = "\x00up", "\x00down"
STOP = {"q", "Q"}


def line_prompt() -> Callable[[str], str]:
    """Return what asks one question; it raises EOFError or KeyboardInterrupt where one stops."""
    os.environ.setdefault("PROMPT_TOOLKIT_NO_CPR", "1")
    from prompt_toolkit import PromptSession
    from prompt_toolkit.key_binding import KeyBindings

    keys = KeyBindings()

    @keys.add("up")
    def _up(event: Any) -> None:
        event.app.exit(result=UP)

    @keys.add("down")
    def _down(event: Any) -> None:
        event.app.exit(result=DOWN)

    session: PromptSession[str] = PromptSession(key_bindings=keys)
    return session.prompt
