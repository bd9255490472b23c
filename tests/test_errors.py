"""Errors as values."""

import pickle

from inkline.errors import Action, Remedy, UnitError, WorkError
from inkline.lettering.errors import FamilyError


def test_an_error_goes_whole_from_one_process_to_another():
    for error in (
        WorkError("no", setting="out", remedies=[Remedy(action=Action.GO_ON)]),
        FamilyError("no", path="a", remedies=[Remedy(action=Action.GIVE_AS_FONT)]),
        UnitError("no", text=3),
    ):
        there = pickle.loads(pickle.dumps(error))  # noqa: S301 - what was written on this very line
        assert (type(there), str(there), vars(there)) == (type(error), "no", vars(error))
