"""Why a build stops before it publishes anything."""

from blankbook.text.findings import Finding


class LedgerHasFaults(Exception):  # noqa: N818 - what happened
    """The ledger has errors; nothing was built."""

    def __init__(self, findings: tuple[Finding, ...]) -> None:
        super().__init__("the ledger has faults")
        self.findings = findings


class BrokenSite(Exception):  # noqa: N818 - what happened
    """The finished pages do not hold together; nothing was published."""
