"""Lets the tests here import what they share with the fuzzers that are run by hand."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
