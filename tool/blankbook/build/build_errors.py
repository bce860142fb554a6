"""The errors that end a build before it publishes anything."""

from blankbook.text.findings import Finding


class LedgerFaultsError(Exception):
    """The ledger has errors; nothing was built."""

    def __init__(self, findings: tuple[Finding, ...]) -> None:
        super().__init__("the ledger has faults")
        self.findings = findings


class BrokenSiteError(Exception):
    """The finished pages do not hold together; nothing was published."""
