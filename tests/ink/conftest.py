"""A style at work in every part of it, for the ink tests."""

import pytest

from ink_scenes import LIVELY
from inkline.ink.style import style_from_dict


@pytest.fixture(scope="session")
def lively():
    return style_from_dict(LIVELY, where="test")
