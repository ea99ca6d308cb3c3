"""The files of a shop's folder: which are there, which are not meant, what each noun holds."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from generator.ground.finding import Finding
from generator.ground.nearest import nearest
from generator.ground.origin import Origin
from generator.ground.textfile import fault
from generator.ground.wording import _
from generator.ground.yamlfile import Located, read_yaml
from generator.shop.examples import as_yaml, group_example
from generator.shop.names import FIRST_ID, SINGLETONS, listed, short
from generator.shop.place import capped
from generator.shop.shapes import ByIds, Group, keys_of, shape_at
from generator.shop.shop import Shop

NOUNS = tuple(name for name in keys_of(Shop) if name != "logs")
LOGS = ("weigh-ins", "batches", "trials", "stock", "rota", "upkeep", "printed", "loans")
COMPETENCE = "competence.csv"  # known, but read only where nothing is published

_FILES = (*(f"{noun}.yml" for noun in NOUNS), *(f"{log}.csv" for log in LOGS), COMPETENCE)
_FOLDERS = tuple(noun for noun in NOUNS if noun not in SINGLETONS)
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
    if _holds_shop_below(folder, names):
        written.broken.update(NOUNS)
        written.faults.append(_one_below(folder))
        return written
    _note_unknown(folder, names, written)
    for noun in NOUNS:
        _read_noun(folder, noun, names, written)
    return written


def _names_in(folder: Path) -> list[str] | None:
    try:
        return sorted(os.listdir(folder))  # noqa: PTH208 - names, not paths
    except (OSError, ValueError):  # ValueError: a NUL in the path
        return None


def _holds_shop_below(folder: Path, names: Sequence[str]) -> bool:
    """Whether the folder around the shop's was named."""
    return "shop.yml" not in names and (folder / "shop" / "shop.yml").is_file()


def _one_below(folder: Path) -> Finding:
    name = _printable(str(folder)[-80:])
    says = _("`{name}` is the folder around a shop's.").format(name=name)
    mend = _("Did you mean `{guess}`?").format(guess=f"{name}/shop")
    return fault("no-folder", Origin("."), says, mend, f"{name}/shop")


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
    if keys_of(Shop)[noun].required and not written.trees.get(noun) and noun not in written.broken:
        written.faults.append(_missing(noun, there=as_file or as_folder))
        written.broken.add(noun)


def _is_noun_folder(folder: Path, noun: str, names: Sequence[str]) -> bool:
    return noun not in SINGLETONS and noun in names and (folder / noun).is_dir()


def _add_file(folder: Path, name: str, noun: str, written: Written) -> None:
    tree, faults = read_yaml(folder / name, _printable(name))
    told = capped((_with_own_example(fault, noun) for fault in faults), _printable(name))
    written.faults.extend(told)
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
            _add_file(folder, f"{noun}/{name}", noun, written)
        elif _is_data(name) or (folder / noun / name).is_dir():
            written.broken.add(noun)
            written.faults.append(_odd_in_folder(noun, name))


def _with_own_example(fault: Finding, noun: str) -> Finding:
    """A file without a mapping is shown what its own records look like."""
    if fault.rule not in ("data.empty-file", "data.not-a-mapping"):
        return fault
    mend = _("Write it, or delete the file.")
    if keys_of(Shop)[noun].required:
        mend = ""
    return replace(fault, mend=mend, example=file_example(noun))


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
    mend = _("Keep one of the two, or give one another id.")
    return fault("duplicate-id", again, says, mend, f"{short(key)}-2:")


def _both(noun: str) -> Finding:
    says = _("{noun}.yml and the folder {noun} both hold records of the same noun.")
    mend = _("Move the file into the folder, or the folder's records into the file.")
    example = f"{noun}/{noun}.yml"
    return fault("file-and-folder", Origin(f"{noun}.yml"), says.format(noun=noun), mend, example)


def _missing(noun: str, *, there: bool) -> Finding:
    says = _("{noun}.yml holds no record.") if there else _("The shop has no {noun}.yml.")
    return fault(
        "missing-file", Origin(f"{noun}.yml"), says.format(noun=noun), "", file_example(noun)
    )


def file_example(noun: str, key: str = "") -> str:
    """The least that can stand in the file of a noun (``stations``, ``room.zones``).

    Records by id stand under ``key`` where one is given.
    """
    top, *path = noun.split(".")
    shape = shape_at(keys_of(Shop)[top].shape, tuple(path))
    right: Any = None
    if isinstance(shape, ByIds) and isinstance(shape.item, Group):
        right = {key or FIRST_ID[noun]: group_example(shape.item.record, _no_ids)}
    elif isinstance(shape, Group):
        right = group_example(shape.record, _no_ids)
    return as_yaml(dict.fromkeys(path, right) or right)


def _no_ids(_noun: str) -> tuple[str, ...]:
    return ()


# --- files that are not meant ------------------------------------------------------------------


def _note_unknown(folder: Path, names: Sequence[str], written: Written) -> None:
    """A file under a wrong name is one fault: its noun is not said to be missing as well."""
    for name in names:
        if name in _FILES or name in _FOLDERS or _is_hidden(name):
            continue
        if (folder / name).is_dir() and not _is_data(name):
            written.faults.extend(_unknown_folder(name, written))
        elif _is_data(name):
            written.faults.append(_unknown_file(name, written))


def _is_hidden(name: str) -> bool:
    return name.startswith((".", "~", "#", "_"))


def _is_data(name: str) -> bool:
    return not _is_hidden(name) and name.lower().endswith(_DATA)


def _unknown_file(name: str, written: Written) -> Finding:
    guess = _file_meant(name)
    written.broken.update(noun for noun in NOUNS if guess == f"{noun}.yml")
    says = _("{name} is not a file that is read.").format(name=_printable(name))
    mend = _rename(name, guess) if guess else _known_files()
    return fault("unknown-file", Origin(_printable(name)), says, mend, guess or "")


def _file_meant(name: str) -> str | None:
    stem, _dot, ending = name.lower().rpartition(".")
    wanted = ".yml" if ending in ("yml", "yaml", "json") else ".csv"
    by_stem = {known.rpartition(".")[0]: known for known in _FILES if known.endswith(wanted)}
    guess = nearest(stem, by_stem)
    return by_stem[guess] if guess else None


def _rename(name: str, guess: str) -> str:
    if name.lower().endswith((".xls", ".xlsx", ".ods")):
        return _("Save it from the spreadsheet as CSV, under the name {guess}.").format(guess=guess)
    if name.lower().endswith(".json"):
        return _("Write it as YAML, under the name {guess}.").format(guess=guess)
    return _("Rename it to {guess}.").format(guess=guess)


def _known_files() -> str:
    return _("Files that are read: {files}.").format(files=listed(_FILES))


def _unknown_folder(name: str, written: Written) -> Iterator[Finding]:
    """A folder of pictures is nobody's mistake, one that is nearly a noun is."""
    guess = nearest(name, NOUNS)
    if guess is None:
        return
    written.broken.add(guess)
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
