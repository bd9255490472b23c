"""A family looked over: each fault is drawn on purpose and must be told, and nothing else."""

import pytest

from inkline.lettering.families import family_path
from inkline.lettering.family import open_family
from inkline.lettering.review import Review

H = [((76, 655), (76, 45)), ((500, 655), (500, 45)), ((76, 350), (500, 350))]
I_ = [((121, 655), (121, 45))]
E = [((121, 655), (121, 45)), ((121, 655), (400, 655)), ((121, 45), (400, 45))]


@pytest.fixture
def reviewed(tmp_path, write_family, line):
    """Sentences on a family of these glyphs: name -> (width, characters, strokes)."""

    def review(glyphs, **options):
        def drawing(strokes):
            def draw(pen):
                for stroke in strokes:
                    line(*stroke)(pen)

            return draw

        folder = tmp_path / "mine.ufo"
        written = {
            name: (width, text, drawing(strokes)) for name, (width, text, strokes) in glyphs.items()
        }
        return list(Review(open_family(write_family(folder, written, **options))).sentences())

    return review


def shifted(strokes, right, up=0):
    return [tuple((x + right, y + up) for x, y in stroke) for stroke in strokes]


def test_letters_that_agree_give_nothing_to_say(reviewed):
    glyphs = {"H": (666, "H", shifted(H, 45)), "I": (242, "I", I_), "E": (480, "E", E)}
    assert reviewed(glyphs) == []


def test_the_first_family_gives_nothing_to_say():
    assert list(Review(open_family(family_path("scullery"))).sentences()) == []


def test_heights_that_differ_are_told_with_the_value(reviewed):
    glyphs = {
        "H": (666, "H", shifted(H, 45)),
        "I": (242, "I", I_),
        "E": (480, "E", shifted(E, 0, 14)),
    }
    assert reviewed(glyphs) == [
        "The tops of flat capitals differ: E 714, where the others stand at 700.",
        "The feet of flat capitals differ: E 14, where the others stand at 0.",
    ]


def test_a_bounce_that_is_meant_is_no_fault(reviewed):
    def ring(low, high):
        return [((300, high), (100, 350), (300, low), (500, 350), (300, high))]

    glyphs = {
        "H": (666, "H", shifted(H, 45)),
        "I": (242, "I", I_),
        "E": (480, "E", shifted(E, 0, 34)),
        "O": (600, "O", ring(45, 655)),
        "C": (600, "C", ring(10, 690)),
    }
    told = [one.partition(",")[0] for one in reviewed(glyphs)]
    assert len([one for one in told if "flat" in one]) == 4
    lib = {"inkline.nominalStem": 90, "inkline.bounce": 26}
    assert [one for one in reviewed(glyphs, lib=lib) if "flat" in one] == []


def test_overshoot_is_told_where_it_lacks_and_where_it_exceeds(reviewed):
    def ring(low, high):
        return [((300, high), (100, 350), (300, low), (500, 350), (300, high))]

    glyphs = {
        "H": (666, "H", shifted(H, 45)),
        "I": (242, "I", I_),
        "O": (600, "O", ring(45, 655)),
        "C": (600, "C", ring(34, 666)),
        "G": (600, "G", ring(10, 690)),
    }
    above, below = (sentence for sentence in reviewed(glyphs) if sentence.startswith("Round"))
    assert "above the flat ones to look as large, but: G 5.0 %, O 0.0 %." in above
    assert "below the flat ones to look as large, but: G 5.0 %, O 0.0 %." in below


def test_side_bearings_that_differ_are_told(reviewed):
    glyphs = {
        "H": (576, "H", H),
        "I": (242, "I", I_),
        "E": (480, "E", E),
        "L": (400, "L", shifted(I_, 40)),
    }
    (sentence,) = (one for one in reviewed(glyphs) if "white left of straight capitals" in one)
    assert sentence.startswith(
        "The white left of straight capitals differs: H 31, L 116, where the others have 76"
    )


def test_stems_that_lean_otherwise_are_told(reviewed):
    leaning = [((121 + 30, 655), (121, 45))]
    glyphs = {
        "H": (666, "H", shifted(H, 45)),
        "I": (242, "I", I_),
        "E": (480, "E", E),
        "l": (260, "l", leaning),
    }
    (sentence,) = reviewed(glyphs)
    assert sentence == "Stems lean otherwise than the others, which lean by 0.0 degrees: l 2.8."


def test_a_slant_common_to_all_is_no_fault(reviewed):
    def slanted(strokes):
        return [tuple((round(x + 0.2 * y), y) for x, y in stroke) for stroke in strokes]

    glyphs = {
        "H": (666, "H", slanted(shifted(H, 45))),
        "I": (242, "I", slanted(I_)),
        "E": (480, "E", slanted(E)),
    }
    assert reviewed(glyphs) == []


def test_tight_counters_are_told_in_stems(reviewed):
    # (150 - 90) / 90, but for a fiftieth of a stem
    eight = [((200, 655), (350, 655), (350, 400), (200, 400), (200, 655))]
    filled = [tuple((x if x == 200 else 270, y) for x, y in eight[0])]
    (sentence,) = reviewed({"eight": (460, "8", eight), "zero": (460, "0", filled)})
    assert sentence == "Counters narrower than a stem, which ink may fill: 0 0.00, 8 0.68 stems."


def test_filled_and_stray_contours_are_told(tmp_path, write_family, line):
    def ring(width):
        def draw(pen):
            pen.beginPath()
            for point in ((100, 45), (100, 655), (100 + width, 655), (100 + width, 45)):
                pen.addPoint(point, "line")
            pen.endPath()

        return draw

    def far(pen):
        line((121, 655), (121, 45))(pen)
        line((3000, 100), (3000, 200))(pen)

    def buried(pen):
        line((121, 655), (121, 45))(pen)
        line((125, 300), (130, 302))(pen)
        line((121, 45), (121, 40))(pen)

    glyphs = {
        "zero": (500, "0", ring(300)),
        "one": (500, "1", ring(90)),
        "I": (242, "I", far),
        "l": (242, "l", buried),
    }
    sentences = list(Review(open_family(write_family(tmp_path / "c.ufo", glyphs))).sentences())
    assert sentences[0].startswith("Closed contours in one are so narrow that ink fills them")
    assert sentences[1].startswith("Stray contours in I, l: ")


def test_dots_are_not_stray(reviewed):
    glyphs = {
        "i": (242, "i", [((121, 445), (121, 45)), ((121, 640), (125, 640))]),
        "period": (200, ".", [((90, 50), (99, 50))]),
    }
    assert reviewed(glyphs) == []


def test_widths_are_told(reviewed):
    glyphs = {"one": (300, "1", I_), "four": (480, "4", I_), "I": (0, "I", I_)}
    assert reviewed(glyphs)[:2] == [
        "No advance width: I.",
        "Figures have several widths (1 300, 4 480); columns of figures want one for all.",
    ]


def test_an_unworkable_pen_is_told(reviewed):
    sentences = reviewed({"I": (242, "I", I_)}, lib={"inkline.nominalStem": 300})
    assert "Capitals stand 2.3 pens high; between 4 and 20 is workable." in sentences


def test_forms_of_nothing_are_told(reviewed):
    assert reviewed(
        {"fuor.open": (242, "", I_), "I": (242, "I", I_), "I.plain": (242, "", I_)}
    ) == ["Called like other forms of glyphs that there are not: fuor.open."]


def test_many_names_are_counted(reviewed):
    glyphs = {f"lost{c}.x": (242, "", I_) for c in "abcdefghijklmno"}
    (sentence,) = reviewed(glyphs)
    assert sentence.endswith("lostl.x and 3 more.")
