"""The types of arrays. What their shapes and units are stands where they are used."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]
Mask = npt.NDArray[np.bool_]
