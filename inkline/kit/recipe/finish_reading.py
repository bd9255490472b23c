"""What a recipe says of a user's own artwork, read; and the letters that files and folders hold."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from inkline.kit.recipe.finish import ArtPart, FinishRecipe
from inkline.kit.recipe.keys import keys_of
from inkline.kit.recipe.keys_finish import FINISH
from inkline.kit.recipe.style import style_and_faults, usual_style
from inkline.kit.recipe.tables import Tables
from inkline.lettering.families import family_names
from inkline.lettering.family import UFO_SUFFIX
from inkline.source.faults import did_you_mean
from inkline.source.places import has_file, has_folder, path_from_folder
from inkline.source.values import text_of_value
from inkline.styles.files import SUFFIX


def finish_from_tables(tables: Tables) -> FinishRecipe:
    """Artwork of the user's own; faults are noted."""
    read = tables.read_table(FINISH, tables.table(FINISH), keys_of(FINISH))
    values = {key: one for key, one in read.items() if one is not None}
    folder = tables.folder_of("finish.files")
    values["files"] = tuple(path_from_folder(folder, one) for one in values.get("files", ()))
    values["parts"] = tuple(_in_place(tables, part) for part in values.get("parts", ()))
    return FinishRecipe(**values)


def _in_place(tables: Tables, part: ArtPart) -> ArtPart:
    """A part with its style file, its family's folder and its font as seen from its own file."""
    path = f"finish.parts.{part.name}"
    folder = tables.folder_of(path)
    style, family, font = part.style, part.family, part.font
    if style is not None and style.endswith(SUFFIX):
        style = str(path_from_folder(folder, style))
    _, faults = style_and_faults(style or usual_style().name, {})
    for _, sentence in faults:
        tables.refuse(f"{path}.style", f"{path}: {sentence}")
    if family is not None:
        family = family_place(tables, f"{path}.family", family)
    if font is not None:
        font = font_place(tables, f"{path}.font", str(font))
    return replace(part, style=style, family=family, font=font)


def font_place(tables: Tables, key: str, text: str | None) -> Path | None:
    """The font file's place, or `None` for the stroke family."""
    if not text:
        return None
    path = path_from_folder(tables.folder_of(key), text)
    if not has_file(path):
        tables.refuse(key, f"{key} must be a font file, and there is none at {path}")
    return path


def family_place(tables: Tables, key: str, name: str | None) -> str:
    """A family's name as it is, or a UFO folder's place; a fault is noted if there is none."""
    if name is not None and name.endswith(UFO_SUFFIX):
        path = path_from_folder(tables.folder_of(key), name)
        if not has_folder(path):
            tables.refuse(key, f"{key} must be a UFO folder, and there is none at {path}")
        return str(path)
    names = family_names()
    if name is not None and name not in names:
        known = ", ".join(f'"{one}"' for one in names)
        required = f"{key} must be one of {known}, or a UFO folder ending in {UFO_SUFFIX}"
        tables.refuse(key, f"{required}, not {text_of_value(name)}{did_you_mean(name, names)}")
    return name or ""
