"""The long runs use the ways of harm that the short ones use."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent / "book"))
