"""Lets the ink tests share `ink_scenes`, though test folders are not packages."""

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from ink_scenes import LIVELY

from inkline.ink.style import style_from_dict


@pytest.fixture(scope="session")
def lively():
    return style_from_dict(LIVELY, where="test")
