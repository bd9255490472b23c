"""Pictures that are kept while there is room."""

import numpy as np

from inkline.desk.finished import FinishedPictures


def test_a_picture_is_drawn_once_and_the_oldest_go_first():
    pictures, drawn = FinishedPictures(most_bytes=250), []

    def picture(key):
        def draw():
            drawn.append(key)
            return np.zeros((10, 10), dtype=np.uint8)

        return pictures.get(key, draw)

    for key in "aabacab":
        picture(key)
    assert drawn == ["a", "b", "c", "b"]
    assert len(pictures) == 2
