"""How many stamps of a kind there are, in plain words."""

from pathlib import Path

from inkline.kit.papers.guide_words import names_of_languages, stamp_groups
from inkline.kit.recipe.loading import recipe_from_text
from inkline.phrases.phrases import Phrases


class NamedPlan:
    """What of a plan a list of stamps looks at: where its picture lies, and what it is."""

    kind, cut = "words", None

    def __init__(self, file):
        self.file = file


def test_languages_are_called_in_english_by_their_tags_where_there_are_several():
    """Names of languages in English by CLDR."""
    for said, names in (
        ('"de"', {}),
        ('["en", "vi"]', {"": "English", "vi": "Vietnamese"}),
        ('["fr", "pt_BR"]', {"": "French", "pt-br": "Brazilian Portuguese"}),
    ):
        text = f"version = 1\nnumber = 1\n[words]\nlanguage = {said}\n"
        found = names_of_languages(recipe_from_text(text, source="a.toml", folder=Path()))
        assert {
            tag: name.replace("Portuguese (Brazil)", "Brazilian Portuguese")
            for tag, name in found.items()
        } == names


def test_words_of_each_language_are_listed_apart():
    names = ["words/month-01", "words/month-02", "words/month-01-de", "words/month-02-de"]
    plans = {name: NamedPlan(f"{name}.png") for name in names}
    groups = stamp_groups(plans, {"": "English", "de": "German"}, Phrases())
    assert [group.title for group in groups] == [
        "names of the months in English",
        "names of the months in German",
    ]
    assert [group.names(Phrases()) for group in groups] == [
        "month-01, month-02",
        "month-01-de, month-02-de",
    ]
