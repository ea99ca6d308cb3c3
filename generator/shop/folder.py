"""The files of a shop's folder: which are there, which are not meant, what each noun holds."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from generator.ground.finding import Finding
from generator.ground.nearest import nearest
from generator.ground.origin import Origin
from generator.ground.textfile import fault
from generator.ground.wording import _
from generator.ground.yamlfile import Located, read_yaml
from generator.shop.examples import as_yaml, group_example
from generator.shop.names import FIRST_ID, SINGLETONS, listed, short
from generator.shop.shapes import ByIds, Group, keys_of
from generator.shop.shop import Shop

NOUNS = tuple(name for name in keys_of(Shop) if name != "logs")
LOGS = ("weigh-ins", "batches", "trials", "stock", "rota", "upkeep")
COMPETENCE = "competence.csv"  # known, but read only where nothing is published

_FILES = (*(f"{noun}.yml" for noun in NOUNS), *(f"{log}.csv" for log in LOGS), COMPETENCE)
_DATA = (".yml", ".yaml", ".csv", ".json", ".xls", ".xlsx", ".ods")


@dataclass(slots=True)
class Written:
    """What stands in the shop's YAML: a tree a noun, and the nouns not wholly readable."""

    trees: dict[str, Located] = field(default_factory=dict)
    broken: set[str] = field(default_factory=set)
    faults: list[Finding] = field(default_factory=list)


def read_folder(folder: Path) -> Written:
    """Read every YAML file of the shop; faults are collected, nothing is raised."""
    written = Written()
    names = _names_in(folder)
    if names is None:
        written.broken.update(NOUNS)
        written.faults.append(_no_folder(folder))
        return written
    written.faults.extend(_unknown_files(folder, names))
    for noun in NOUNS:
        _read_noun(folder, noun, names, written)
    return written


def _names_in(folder: Path) -> list[str] | None:
    try:
        return sorted(os.listdir(folder))  # noqa: PTH208 - names, not paths
    except (OSError, ValueError):  # ValueError: a NUL in the path
        return None


def _no_folder(folder: Path) -> Finding:
    name = str(folder)[-80:].encode("utf-8", "replace").decode()
    says = _("There is no shop folder to read at `{name}`.").format(name=name)
    mend = _("Name the folder that holds shop.yml, room.yml and stations.yml.")
    return fault("no-folder", Origin("."), says, mend, "content/shop")


# --- a noun ------------------------------------------------------------------------------------


def _read_noun(folder: Path, noun: str, names: Sequence[str], written: Written) -> None:
    as_file, as_folder = f"{noun}.yml" in names, _is_noun_folder(folder, noun, names)
    if as_file and as_folder:
        written.faults.append(_both(noun))
    if as_file:
        _add_file(folder, f"{noun}.yml", noun, written)
    if as_folder:
        _add_folder(folder, noun, written)
    elif not as_file and keys_of(Shop)[noun].required:
        written.broken.add(noun)
        written.faults.append(_missing_file(noun))


def _is_noun_folder(folder: Path, noun: str, names: Sequence[str]) -> bool:
    return noun not in SINGLETONS and noun in names and (folder / noun).is_dir()


def _add_file(folder: Path, name: str, noun: str, written: Written) -> None:
    tree, faults = read_yaml(folder / name, name)
    written.faults.extend(faults)
    if tree is None:
        written.broken.add(noun)
    elif noun in written.trees:
        _merge(written.trees[noun], tree, written)
    else:
        written.trees[noun] = tree


def _add_folder(folder: Path, noun: str, written: Written) -> None:
    written.trees.setdefault(noun, Located(Origin(noun)))
    names = _names_in(folder / noun)
    if names is None:
        written.broken.add(noun)
        says = _("The folder {noun} cannot be read.").format(noun=noun)
        written.faults.append(fault("unreadable-file", Origin(noun), says))
    for name in names or ():
        if name.endswith(".yml") and not _is_hidden(name):
            _add_file(folder, f"{noun}/{_printable(name)}", noun, written)
        elif _is_data(name) or (folder / noun / name).is_dir():
            written.faults.append(_odd_in_folder(noun, name))


def _merge(tree: Located, more: Located, written: Written) -> None:
    for key, value in more.items():
        if key in tree:
            written.faults.append(_twice(key, tree.key_origins[key], more.key_origins[key]))
            continue
        tree[key] = value
        tree.origins[key] = more.origins[key]
        tree.key_origins[key] = more.key_origins[key]


def _twice(key: str, first: Origin, again: Origin) -> Finding:
    says = _("The id `{key}` is on line {line} of {again} and already on line {above} of {first}.")
    says = says.format(
        key=short(key), again=again.file, line=again.line, first=first.file, above=first.line
    )
    return fault("duplicate-id", again, says, _("Keep one of the two, or give one another id."))


def _both(noun: str) -> Finding:
    says = _("{noun}.yml and the folder {noun} both hold records of the same noun.")
    mend = _("Move the file into the folder, or the folder's records into the file.")
    example = f"{noun}/{noun}.yml"
    return fault("file-and-folder", Origin(f"{noun}.yml"), says.format(noun=noun), mend, example)


def _missing_file(noun: str) -> Finding:
    says = _("The shop has no {noun}.yml.").format(noun=noun)
    return fault("missing-file", Origin(f"{noun}.yml"), says, _("Write it."), file_example(noun))


def file_example(noun: str, key: str = "") -> str:
    """The least a noun's file can hold, under ``key`` where it holds records by id."""
    shape = keys_of(Shop)[noun].shape
    if isinstance(shape, Group):
        return as_yaml(group_example(shape.record, _no_ids))
    assert isinstance(shape, ByIds)
    assert isinstance(shape.item, Group)
    return as_yaml({key or FIRST_ID[noun]: group_example(shape.item.record, _no_ids)})


def _no_ids(_noun: str) -> tuple[str, ...]:
    return ()


# --- files that are not meant ------------------------------------------------------------------


def _unknown_files(folder: Path, names: Sequence[str]) -> Iterator[Finding]:
    for name in names:
        if name in _FILES or _is_hidden(name):
            continue
        if (folder / name).is_dir():
            yield from _unknown_folder(name)
        elif _is_data(name):
            yield _unknown_file(name)


def _is_hidden(name: str) -> bool:
    return name.startswith((".", "~", "#", "_"))


def _is_data(name: str) -> bool:
    return not _is_hidden(name) and name.lower().endswith(_DATA)


def _unknown_file(name: str) -> Finding:
    guess = _file_meant(name)
    says = _("{name} is not a file that is read.").format(name=_printable(name))
    mend = _("Rename it to {guess}.").format(guess=guess) if guess else _known_files()
    return fault("unknown-file", Origin(_printable(name)), says, mend, guess or "")


def _file_meant(name: str) -> str | None:
    stem = name.rpartition(".")[0]
    kind = ".yml" if name.lower().endswith((".yml", ".yaml", ".json")) else ".csv"
    alike = [known for known in _FILES if known.endswith(kind)]
    return nearest(stem + kind, alike) or nearest(stem + kind, _FILES)


def _known_files() -> str:
    return _("Files that are read: {files}.").format(files=listed(_FILES))


def _unknown_folder(name: str) -> Iterator[Finding]:
    """A folder of pictures is nobody's mistake, one that is nearly a noun is."""
    if name in NOUNS and name not in SINGLETONS:
        return
    guess = nearest(name, NOUNS)
    if guess is None:
        if _is_data(name):
            yield _unknown_file(name)
        return
    says = _("The folder {name} is not read.").format(name=_printable(name))
    if guess in SINGLETONS:
        mend, right = _("Write one file, {guess}.yml.").format(guess=guess), f"{guess}.yml"
    else:
        mend, right = _("Rename it to {guess}.").format(guess=guess), f"{guess}/press.yml"
    yield fault("unknown-file", Origin(_printable(name)), says, mend, right)


def _odd_in_folder(noun: str, name: str) -> Finding:
    says = _("{name} is not read: the folder holds files that end in .yml, and no more folders.")
    shown = f"{noun}/{_printable(name)}"
    right = f"{noun}/{_printable(name).rpartition('.')[0] or _printable(name)}.yml"
    return fault(
        "unknown-file", Origin(shown), says.format(name=shown), _("Rename or move it."), right
    )


def _printable(name: str) -> str:
    return name.encode("utf-8", "replace").decode()
