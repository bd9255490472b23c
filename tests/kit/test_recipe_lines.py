from hypothesis import given, settings
from hypothesis import strategies as st

from inkline.kit.recipe_lines import key_lines


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
