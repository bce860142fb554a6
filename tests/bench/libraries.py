"""Load the libraries that judging a ledger cannot do without, and do nothing with them.

The validator that is compiled is in the package's extra ``fast``; without it nothing stands in.
"""

import contextlib

import numpy
import scipy.special
import typer
import yaml

with contextlib.suppress(ImportError):
    import jsonschema_rs  # noqa: F401

__all__ = ["numpy", "scipy", "typer", "yaml"]
