"""The topics of the handbook, in reading order, and which of them explains each command."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Topic:
    """One page of the handbook: ``site/handbook/KEY.md``."""

    title: str
    about: str
    """What a reader finds there, in one sentence."""


TOPICS: dict[str, Topic] = {
    "first-round": Topic("A first round", "From an empty folder to the first answer."),
    "answers": Topic("What the answers mean", "Answer, advice, decision and standing; limits."),
    "table": Topic("At the table", "Type readings, one prompt each, and let slips be caught."),
    "phone": Topic("With a phone, or on paper", "Read the tape where there is no keyboard."),
    "import": Topic("Bring in charts and tables", "Read a chart, readings, or a client's list."),
    "washing": Topic("Washing, grades and prints", "What a tape alone does not say."),
    "planning": Topic("Lots and planning", "What pieces can show, and what the next lot will be."),
    "orders": Topic("Bulk orders", "What to buy, what it costs, and what is at risk."),
    "deliveries": Topic("Deliveries", "Inspect what an order brought."),
    "changes": Topic("Changes and review", "See what a change means before it counts."),
    "clients": Topic("Clients and publishing", "The site, and the size charts for clients."),
    "measuring": Topic("How well you measure", "What the tape and the hand bring to an answer."),
    "files": Topic("The ledger's files", "What stands where, and how to write it by hand."),
    "commands": Topic("Commands: look and publish", "Their options, and how a command ends."),
    "commands-start": Topic("Commands: begin and buy", "Options of start, add and plan."),
    "commands-table": Topic("Commands: readings", "Options of enter and import."),
    "commands-orders": Topic("Commands: orders", "Options of order, outcome and receive."),
    "trouble": Topic("When something is wrong", "What messages mean, and what to do."),
}

COMMAND_TOPICS: dict[str, str] = {
    "start": "first-round",
    "add": "first-round",
    "add supplier": "first-round",
    "add style": "import",
    "add chart": "changes",
    "plan": "planning",
    "enter": "table",
    "import": "import",
    "order": "orders",
    "outcome": "orders",
    "receive": "deliveries",
    "check": "trouble",
    "vet": "answers",
    "build": "clients",
    "measuring": "measuring",
    "changes": "changes",
    "help": "commands",
}
"""The topic that explains each command, by the words it is called with."""
