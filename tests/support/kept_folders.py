"""A folder that is kept, with a few files of made-up stamps in it."""

from inkline.folder.disk import sha256
from inkline.folder.entry import Entry, FileEntry, FileSum, Section
from inkline.folder.kept import Foreign, masters_file, open_kept_folder
from inkline.folder.manifest import SectionForm
from inkline.folder.strangers import Kind

FORM = SectionForm(format="inkline kit", noun="kit")

FILES = {name: {"png": f"{name}.png"} for name in ("a/one", "a/two", "overview")}


def entry(name, picture, *, inputs="in", masters=b"masters", number=7):
    return Entry(
        name=name,
        section=Section.STAMPS,
        files=(file_of(name, "png", picture, inputs=inputs),),
        facts={"kind": "grid", "format": "a", "canvas": [4, 4]},
        drawn_with={"number": number},
        masters=FileSum(file=masters_file(name), sha256=sha256(masters)),
        layout={"lines": []},
    )


def file_of(name, form, data, *, inputs="in"):
    return FileEntry(form=form, file=f"{name}.{form}", sha256=sha256(data), inputs=inputs)


def opened(path, *, foreign=Foreign.REFUSE, number=None, disk=None):
    return open_kept_folder(
        path,
        kind=Kind(form=FORM),
        files=FILES,
        foreign=foreign,
        number=number,
        **({"disk": disk} if disk else {}),
    )


def saved(kit, name, picture, *, masters=b"masters"):
    kit.save_masters(masters_file(name), masters)
    kit.save(entry(name, picture, masters=masters), f"{name}.png", picture)


def finished(kit):
    kit.finish({"title": "T"}, names=("a/one", "a/two", "overview"))
