"""The style that a recipe asks for."""

from inkline.kit.recipe.loading import load_recipe


def test_a_style_file_is_seen_from_the_recipe_s_folder(tmp_path):
    (tmp_path / "lines").mkdir()
    (tmp_path / "lines" / "mine.toml").write_text('based_on = "dip-pen"\n')
    (tmp_path / "recipe.toml").write_text(
        'version = 1\nnumber = 1\n[style]\nname = "lines/mine.toml"\n'
    )
    assert load_recipe(tmp_path / "recipe.toml").style_name == str(tmp_path / "lines" / "mine.toml")
