"""A disk that stops, and the way to the modules that other processes import."""

import sys
from pathlib import Path

import pytest

from inkline.folder.disk import Disk

sys.path.insert(0, str(Path(__file__).parent))


class StoppedError(BaseException):
    """Stands for the end of the process: no handler of errors may catch it."""


class StoppingDisk(Disk):
    """Ends at operation number `stop` (from 0), before it or halfway through, and stays ended.

    A dead process tidies nothing up, so whatever runs afterwards finds every operation gone.
    """

    def __init__(self, stop=None, *, halfway=False):
        self.stop, self.halfway, self.count, self.dead = stop, halfway, 0, False
        self.names = []

    def _step(self, name, halfway=None):
        if self.dead:
            raise StoppedError
        if self.count == self.stop:
            self.dead = True
            if self.halfway and halfway is not None:
                halfway()
            raise StoppedError
        self.count += 1
        self.names.append(name)

    def make_folder(self, folder):
        self._step("make_folder")
        super().make_folder(folder)

    def write(self, path, data):
        self._step("write", lambda: Disk.write(self, path, data[: len(data) // 2]))
        super().write(path, data)

    def append(self, path, data):
        self._step("append", lambda: Disk.append(self, path, data[: len(data) // 2]))
        super().append(path, data)

    def replace(self, source, target):
        self._step("replace")
        super().replace(source, target)

    def remove(self, path):
        self._step("remove")
        super().remove(path)

    def sync_folder(self, folder):
        self._step("sync_folder")
        super().sync_folder(folder)


StoppingDisk.Stopped = StoppedError


@pytest.fixture
def stopping_disk():
    """Disks that end at one operation; `stopping_disk.Stopped` is what they end with."""
    return StoppingDisk
