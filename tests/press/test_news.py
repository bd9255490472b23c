"""What a listener hears of a run: numbers of pieces, and the share of the work by their costs."""

from types import SimpleNamespace

from inkline.press.news import News


def heard(costs, expected, made):
    steps = []
    pieces = {name: SimpleNamespace(cost=cost) for name, cost in costs.items()}
    news = News(listener=steps.append, pieces=pieces)
    news.expect(expected)
    for name in made:
        news.tell(name)
    return [(step.name, step.done, step.total, step.share) for step in steps]


def test_the_share_goes_by_costs():
    steps = heard({"a": 6.0, "b": 1.0, "c": 1.0}, "abc", "abc")
    assert steps == [("a", 1, 3, 0.75), ("b", 2, 3, 0.875), ("c", 3, 3, 1.0)]


def test_more_than_was_expected_is_never_more_than_all():
    steps = heard({"a": 1.0, "b": 3.0}, "a", "ab")
    assert steps == [("a", 1, 1, 1.0), ("b", 2, 2, 1.0)]


def test_pieces_without_costs_count_by_their_number():
    assert heard({"a": 0.0, "b": 0.0}, "ab", "ab")[0] == ("a", 1, 2, 0.5)
