"""Phrases: what is filled in, which language stands for which, what a file of one's own may say."""

import string

import pytest

from inkline.phrases.phrases import (
    Phrases,
    PhrasesError,
    _shipped,
    phrase_files,
    phrases_from_text,
)


def blanks(text):
    return {name for _, name, _, _ in string.Formatter().parse(text) if name is not None}


def test_sentences_count_and_are_filled_in():
    phrases = Phrases()
    assert phrases.count("shop.stamps", 1) == "1 stamp"
    assert phrases.count("shop.stamps", 59) == "59 stamps"
    assert phrases.say("shop.close_size", width=3, height=4) == "3 × 4 px"
    with pytest.raises(LookupError):
        phrases.say("shop.nothing")


@pytest.mark.parametrize("language", sorted(phrase_files()))
def test_every_language_says_all_that_english_says_with_the_same_blanks(language):
    english, other = _shipped("en"), _shipped(language)
    assert set(other) == set(english)
    for key, text in english.items():
        assert blanks(other[key]) <= blanks(text), key
        assert blanks(text) - {"n"} <= blanks(other[key]), key


def test_a_language_that_there_is_none_of_is_said_in_english_and_a_form_in_its_own():
    assert Phrases(language="tlh").say("shop.inside") == Phrases().say("shop.inside")
    for language in phrase_files():
        form = Phrases(language=f"{language}_XX")
        assert form.say("shop.inside") == Phrases(language=language).say("shop.inside")


def test_sentences_of_ones_own_go_first():
    own = phrases_from_text('[shop]\ninside = "Sisällä"\nstamps.other = "{n} leimaa"\n')
    phrases = Phrases(language="fi", own=own)
    assert phrases.say("shop.inside") == "Sisällä"
    assert phrases.count("shop.stamps", 3) == "3 leimaa"
    assert phrases.count("shop.stamps", 1) == "1 stamp"


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("[shop", "it is no TOML"),
        ('[shop]\ninsid = "x"', "there is no sentence 'shop.insid'"),
        ("[shop]\ninside = 3", "shop.inside must be a sentence between quotes"),
        ('[shop]\ninside = "{who}"', r"shop.inside may hold nothing between braces, not \{who\}"),
        ('[shop]\ninside = "{"', "shop.inside has braces that don't close"),
        ('[shop.stamps]\nother = "{n.real}"', r"may hold \{n\} between braces, not \{n.real\}"),
        ('[shop.stamps]\nother = "{n:d}"', r"may hold \{n\} between braces, not \{n:d\}"),
        (f'[shop]\ninside = "{"x" * 601}"', "shop.inside must have at most 600 letters, not 601"),
    ],
)
def test_what_cannot_stand_for_a_sentence_is_refused(text, sentence):
    with pytest.raises(PhrasesError, match=sentence):
        phrases_from_text(text)
