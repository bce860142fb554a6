"""Load the libraries that judging a ledger cannot do without, and do nothing with them."""

import jsonschema_rs
import numpy
import scipy.special
import typer
import yaml

__all__ = ["jsonschema_rs", "numpy", "scipy", "typer", "yaml"]
