"""Which change of a whole picture explains another."""

import numpy as np
import pytest
from PIL import Image

from inkline.proof.changes import change_between

SIZES = [(287, 615), (286, 614), (700, 691)]


def rings(shape):
    """Soft-edged rings, about one grey level a tenth of a px, so that all half tones occur."""
    y, x = np.indices(shape)
    far = np.hypot(x - 0.47 * shape[1], y - 0.52 * shape[0])
    return np.clip(127.5 + 90.0 * np.sin(far / 6.0) * 3.0, 0, 255).astype(np.uint8)


@pytest.mark.parametrize("whole", [np.floor, np.ceil])
@pytest.mark.parametrize("shape", SIZES)
def test_what_was_saved_at_half_its_size_and_enlarged_is_called_so(shape, whole):
    """Also where the half is no whole number of px, and programs round either way."""
    grey, (height, width) = rings(shape), shape
    small = (int(whole(width / 2)), int(whole(height / 2)))
    shrunk = Image.fromarray(grey).resize(small, Image.Resampling.BILINEAR)
    got = np.asarray(shrunk.resize((width, height), Image.Resampling.BICUBIC))
    change = change_between(got, grey)
    assert (change.kind, change.left) == ("shrunk", pytest.approx(0.0, abs=0.02))
    assert change.sentence == "saved at 50 % of its size and enlarged again"


@pytest.mark.parametrize("gamma", [0.97, 1.03])
def test_no_values_are_said_to_be_bent_by_a_gamma_of_1(gamma):
    """The mean of edges that moved a little is a curve as well, and nearly straight."""
    grey = rings((300, 300))
    got = np.round(255.0 * (grey / 255.0) ** gamma).astype(np.uint8)
    change = change_between(got, grey)
    assert change is None or change.kind != "values"
