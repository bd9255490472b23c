"""Names for kinds of arrays: points, numbers, indices, grey values."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]
"""Points `(n, 2)`; a closed contour does not repeat its first point."""
Point = tuple[float, float] | Points
"""One point: x and y, as a pair or as an array `(2,)`."""
Floats = NDArray[np.float64]
"""Numbers of any shape; mostly one for each point of a line, `(n,)`."""
Ints = NDArray[np.int64]
"""Whole numbers."""
Indices = NDArray[np.intp]
"""Places in other arrays."""
Bools = NDArray[np.bool_]
"""What is true of each."""
Grey = NDArray[np.uint8]
"""Coverage from 0, bare, to 255, all ink; mostly a picture `(height, width)`."""
Singles = NDArray[np.float32]
"""Numbers of any shape, in single precision: values of pixels, where memory tells."""
Complexes = NDArray[np.complex128]
"""Points as complex numbers x + iy, `(n,)`, where that is quicker."""
Values = NDArray[np.uint8] | NDArray[np.uint16]
"""Values of pixels in a file, `(height, width, n)`, of 8 or 16 bits."""
