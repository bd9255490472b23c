import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inkline.source.lines import key_lines, repeated_key


def test_lines_of_keys_and_tables():
    text = '''# first
a = 1
b.c = 2

[t]
x = [
  1,  # [u]
  2,
]
y = """
[v]
z = 1
"""
"q.r/s" = 3
[t.inner]
k = { m = 1, n = 2 }
[[list]]
p = 1
'''
    assert key_lines(text) == {
        "a": 2,
        "b": 3,
        "b.c": 3,
        "t": 5,
        "t.x": 6,
        "t.y": 10,
        "t.q.r/s": 14,
        "t.inner": 15,
        "t.inner.k": 16,
        "t.inner.k.m": 16,
        "t.inner.k.n": 16,
        "list": 17,
        "list.p": 18,
    }


@given(blank=st.lists(st.sampled_from(["", "# x = 1", "   "]), max_size=4), n=st.integers(1, 6))
@settings(max_examples=30, deadline=None)
def test_every_key_is_found_where_it_was_put(blank, n):
    lines = [*blank]
    expected = {}
    for index in range(n):
        lines += [f"key{index} = {index}", *blank]
        expected[f"key{index}"] = lines.index(f"key{index} = {index}") + 1
    assert key_lines("\n".join(lines)) == expected


def test_a_table_that_only_its_inner_ones_name_stands_where_it_is_first_named():
    assert key_lines("[a.b.c]\n[a.d]\n[a.b]\n") == {"a": 1, "a.b": 3, "a.b.c": 1, "a.d": 2}


def test_a_key_of_thousands_of_parts_is_read():
    assert len(key_lines(".".join("a" * 1500) + " = 1")) == 1500


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("a = 1\n\na = 2\n", ("a", 1, 3)),
        ("[t]\na = 1\n[u]\na = 1\n[t]\n", ("t", 1, 5)),
        ("[t]\na = [\n  1,\n]\na = 2", ("t.a", 2, 5)),
        ('a.b = 1\na.c = 2\na."b" = 3', ("a.b", 1, 3)),
        ("a = { b = 1 }\na.b = 1", ("a.b", 1, 2)),
        ("[t.u]\n[t]\na = 1\n[[l]]\na = 1\n[[l]]\na = 1\n", None),
        ('a = """\nb = 1\nb = 2', None),
        ("a = 1\na = 2\n", ("a", 1, 2)),
    ],
)
def test_what_stands_twice_is_found(text, found):
    assert repeated_key(text, last_line=text.count("\n") + 1) == found


def test_nothing_is_looked_for_below_the_last_line():
    assert repeated_key("a = 1\nb = 1\na = 2\n", last_line=2) is None


@pytest.mark.parametrize(
    "value",
    [
        "[\n" + "[1],\n" * 2000 + "]",
        '"""\n' + "a]\n" * 2000 + '"""',
        "[\n" + '"[",\n' * 90 + "]",
        "{ a = [\n" + "{ b = '''\n]'''},\n" * 300 + "] }",
    ],
    ids=["lists", "a text", "brackets in texts", "tables"],
)
def test_a_value_of_many_lines_ends_where_it_ends(value):
    lines = key_lines(f"x = {value}\ny = 1\n")
    assert (lines["x"], lines["y"]) == (1, value.count("\n") + 2)
