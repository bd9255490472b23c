"""ZIP archives whose bytes depend on their members alone (PKWARE's APPNOTE; ISO/IEC 21320-1)."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterable

_NO_DATE = (1980, 1, 1, 0, 0, 0)
"""The earliest that a ZIP file can say; the time is nobody's business and would change the
bytes."""


def zip_bytes(members: Iterable[tuple[str, bytes]]) -> bytes:
    """An archive of `members`, each a name and its data, in their order, none of them packed."""
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_STORED) as file:
        for name, data in members:
            file.writestr(zipfile.ZipInfo(name, _NO_DATE), data)
    return buffer.getvalue()
