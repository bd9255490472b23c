"""Lets the tests of recipes share `recipe_texts`, though test folders are not packages."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
