"""The `measuring` command: how well the shop measures."""

import json
from typing import TYPE_CHECKING, Annotated, Any

import typer

from blankbook.commands.shared.errors import CLEAN, BlankbookError
from blankbook.commands.shared.ledger_root import LedgerOption, ledger_root

if TYPE_CHECKING:
    from blankbook.records.load_ledger import LoadedLedger


def measuring(
    ledger: LedgerOption = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print the results as data.")] = False,
) -> int:
    """Say how well the shop measures, and what the ledger has learned of hands and pieces."""
    from blankbook.records.load_ledger import load_ledger
    from blankbook.results.learning.ledger_learning import blank_contribution

    loaded = load_ledger(
        ledger_root(ledger), keep=lambda _: False, gather=blank_contribution, pictures=False
    )
    if loaded.ledger is None:
        raise BlankbookError("shop.yaml has faults", "run blankbook check to see where")
    typer.echo(_json(loaded) if as_json else _text(loaded))
    return CLEAN


def _text(loaded: "LoadedLedger") -> str:
    from blankbook.commands.vet_today import wrap
    from blankbook.results.learning.ledger_learning import learned_lines
    from blankbook.results.learning.measuring_studies import study_result

    assert loaded.ledger
    shop, studies = loaded.ledger.shop, loaded.ledger.studies
    lines = [wrap(line, "  - ") for line in learned_lines(loaded.gathered, shop, studies)]
    text = ["what the ledger has learned (standard deviations)", *lines]
    for study in studies:
        text += [
            "",
            f"study {study.key}, {study.date}",
            wrap(study_result(study, shop).says, "  - "),
        ]
    return "\n".join(text)


def _json(loaded: "LoadedLedger") -> str:
    from blankbook.results.json_results import study_data
    from blankbook.results.learning.ledger_learning import learn_common
    from blankbook.results.learning.measuring_studies import study_result

    assert loaded.ledger
    shop, studies = loaded.ledger.shop, loaded.ledger.studies
    data: dict[str, Any] = {
        "schema": "blankbook/measuring/1",
        "learned": learn_common(loaded.gathered, shop, studies),
        "studies": [study_data(study_result(study, shop)) for study in studies],
    }
    return json.dumps(data, ensure_ascii=False, indent=2, sort_keys=True, allow_nan=False)
