"""One order checked against all its rules, or the sound parts of a faulty one."""

from blankbook.records.load_file import LoadedFile
from blankbook.records.model import Order, Style
from blankbook.records.rule_context import RuleContext
from blankbook.records.rules import name_rules, order_rules
from blankbook.text.findings import Finding


def order_findings(context: RuleContext, loaded: LoadedFile, style: Style | None) -> list[Finding]:
    """Return what is wrong with an order."""
    sound = loaded.sound
    order = loaded.record or (sound.record if sound else None)
    if loaded.parsed is None or not isinstance(order, Order):
        return []
    faults = [
        *name_rules.of_style(order, loaded.file),
        *name_rules.of_round(order),
        *order_rules.of_itself(order, context.today, whole=loaded.record is not None),
    ]
    if style:
        faults += order_rules.of_style(order, style)
    supplier = context.suppliers.get(style.supplier) if style else None
    if style and supplier and context.shop and loaded.record:
        faults += order_rules.of_terms(order, style, supplier, context.shop)
    return context.located(loaded.parsed, sound.located(faults) if sound else faults)
