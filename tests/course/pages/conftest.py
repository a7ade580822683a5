"""What makes the glossary's page is imported by name."""

import sys
from pathlib import Path

TESTS = str(Path(__file__).parents[2])
if TESTS not in sys.path:
    sys.path.insert(0, TESTS)
