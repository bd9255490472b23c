"""Charts to be looked at: a usual offer, its year, and what is read in their pixels."""

import io
from dataclasses import replace

import numpy as np
from PIL import Image

from inkline.ink.style import EXACT
from inkline.kit.papers.charts import look_of
from inkline.kit.recipe.choices import Dates, Header, SixthWeek, WeekNumbers
from inkline.kit.recipe.loading import default_recipe
from inkline.kit.stamps.month import Offer
from inkline.kit.stamps.year_chart import chart_names, year_chart
from inkline.pages.faces import usual_family

SUNDAY, MONDAY = 6, 0
RECIPE = default_recipe()
PLAIN = Offer(
    weeks=(5, 6),
    header=Header.BOTH,
    takes=1,
    dates=Dates.TO_31,
    sixth_week=SixthWeek.OWN_ROW,
    week_numbers=WeekNumbers.NONE,
)
STARTS = {"sunday": SUNDAY, "monday": MONDAY}


def look(style=EXACT, **changes):
    return replace(look_of(RECIPE, face=usual_family(), style=style, language="en"), **changes)


def chart(year=2027, start="monday", *, offer=PLAIN, language="en"):
    return year_chart(
        offer,
        year,
        start=start,
        names=chart_names(language),
        formats=("standard",),
    )


def pixels(data):
    with Image.open(io.BytesIO(data)) as picture:
        return np.asarray(picture.convert("RGB"))


def counted(picture, colour):
    """How many px have exactly this colour."""
    wanted = np.array([int(colour[index : index + 2], 16) for index in (1, 3, 5)])
    return int((picture == wanted).all(axis=2).sum())
