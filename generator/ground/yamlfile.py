"""A YAML file as plain Python that remembers where everything was written.

Scalars are read as YAML 1.2's core schema reads them, decimal numbers only: ``no``, ``on``,
``9:30``, ``0x10`` and ``2024-05-01`` are words. What YAML would swallow (duplicate keys, tags,
alias bombs, not-a-number) is a fault. Nothing here raises: every fault is collected.
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final

import yaml
from yaml.events import (
    AliasEvent,
    CollectionStartEvent,
    DocumentStartEvent,
    Event,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    StreamEndEvent,
    StreamStartEvent,
)

from generator.ground.finding import Finding
from generator.ground.origin import Origin
from generator.ground.syntaxfault import printed_quotes_fault, syntax_fault, tab_fault
from generator.ground.textfile import UNSEEN, fault, read_text
from generator.ground.wording import _

_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)

DEEPEST = 40
MOST_ALIASES = 20
MOST_REPEATED = 20_000  # values that aliases stand for, all told
_MOST_DIGITS = 18


class _Unreadable:
    """Stands where a value could not be read and a fault already says so."""

    def __repr__(self) -> str:
        return "UNREADABLE"


UNREADABLE: Final = _Unreadable()


class Located(dict[str, Any]):
    """A mapping that knows where it, its keys and its values were written.

    ``written`` holds each plain scalar as it stands in the file (``1.10``, ``007``).
    """

    def __init__(self, origin: Origin) -> None:
        super().__init__()
        self.origin = origin
        self.origins: dict[str, Origin] = {}
        self.key_origins: dict[str, Origin] = {}
        self.written: dict[str, str] = {}


class LocatedList(list[Any]):
    """A list that knows where it and its items were written."""

    def __init__(self, origin: Origin) -> None:
        super().__init__()
        self.origin = origin
        self.origins: list[Origin] = []
        self.written: dict[int, str] = {}


def read_yaml(path: Path, name: str) -> tuple[Located | None, list[Finding]]:
    """The mapping in ``path`` and every fault found; None where no mapping can be had.

    ``name`` is the path as the user knows it, relative to the shop folder. A value that could
    not be read is present as ``UNREADABLE``, so that it is not reported as missing too.
    """
    text, faults = read_text(path, name)
    return (None, faults) if text is None else parse_yaml(text, name)


def parse_yaml(text: str, name: str) -> tuple[Located | None, list[Finding]]:
    """As ``read_yaml``, from text in hand."""
    reader = _Reader(text, name)
    return reader.read(), reader.faults


class _Stop(Exception):  # noqa: N818 - not an error: the fault is already collected
    """Nothing behind this point can be read as meant."""


class _Reader:
    def __init__(self, text: str, name: str) -> None:
        self.name = name
        self.lines = re.split(r"\r\n|\r|\n", text)
        self.faults: list[Finding] = []
        self._text = text
        self._events: Iterator[Event] = iter(())
        self._anchors: dict[str, Any] = {}
        self._sizes: dict[str, int] = {}
        self._values = 0  # as if every alias were written out
        self._open: set[str] = set()
        self._aliases = 0
        self._repeated = 0

    def read(self) -> Located | None:
        try:
            # The parser's own call: the library's generator around it took a tenth of the time.
            self._events = iter(_LOADER(self._text).get_event, None)
            return self._document()
        except yaml.MarkedYAMLError as error:
            self.faults.append(syntax_fault(error, self.lines, self.name))
        except yaml.YAMLError:
            says = _("{name} cannot be read as YAML.").format(name=self.name)
            self.faults.append(fault("syntax", Origin(self.name), says))
        except _Stop:
            pass
        return None

    # --- structure ---

    def _document(self) -> Located | None:
        start = next(e for e in self._events if not isinstance(e, StreamStartEvent))
        if isinstance(start, StreamEndEvent):
            self._not_a_mapping(None)
            return None
        value = self._node(next(self._events), 0)
        next(self._events)  # the end of the document
        after = next(self._events)
        if isinstance(after, DocumentStartEvent):
            self._second_document(after)
        if isinstance(value, Located):
            return value
        self._not_a_mapping(value)
        return None

    def _node(self, event: Event, depth: int) -> Any:
        if type(event) is ScalarEvent and event.anchor is None and event.tag is None:
            return self._scalar(event)  # nearly every node
        if isinstance(event, AliasEvent):
            return self._alias(event)
        assert isinstance(event, ScalarEvent | CollectionStartEvent)
        before = self._values
        if event.anchor:
            self._open.add(event.anchor)
        tagged = event.tag is not None and self._tag(event)
        value = self._content(event, depth)
        if event.anchor:
            self._open.discard(event.anchor)
            self._anchors[event.anchor] = value
            self._sizes[event.anchor] = self._values - before
        return UNREADABLE if tagged else value

    def _content(self, event: ScalarEvent | CollectionStartEvent, depth: int) -> Any:
        if isinstance(event, ScalarEvent):
            return self._scalar(event)
        if depth >= DEEPEST:
            self._too_deep(event)
        return (
            self._mapping(event, depth)
            if isinstance(event, MappingStartEvent)
            else self._sequence(event, depth)
        )

    def _mapping(self, start: Event, depth: int) -> Located:
        mapping = Located(self._at(start))
        while not isinstance(event := next(self._events), MappingEndEvent):
            key = self._key(event, depth)
            value_event = next(self._events)
            value = self._node(value_event, depth + 1)
            if key is not None:
                self._put(mapping, key, value, event, value_event)
        return mapping

    def _put(self, mapping: Located, key: str, value: Any, at: Event, value_at: Event) -> None:
        if key in mapping:
            self._duplicate(key, mapping, self._at(at))
            return
        self._values += 1
        mapping[key] = value
        mapping.key_origins[key] = self._at(at)
        mapping.origins[key] = self._at(value_at)
        if isinstance(value_at, ScalarEvent):
            mapping.written[key] = value_at.value

    def _sequence(self, start: Event, depth: int) -> LocatedList:
        items = LocatedList(self._at(start))
        while not isinstance(event := next(self._events), SequenceEndEvent):
            if isinstance(event, ScalarEvent):
                items.written[len(items)] = event.value
            self._values += 1
            items.append(self._node(event, depth + 1))
            items.origins.append(self._at(event))
        return items

    def _key(self, event: Event, depth: int) -> str | None:
        before = len(self.faults)
        key = self._node(event, depth + 1)
        if isinstance(key, str) and isinstance(event, ScalarEvent):
            return key
        if len(self.faults) == before:
            self._odd_key(event)
        return None

    # --- scalars ---

    def _scalar(self, event: ScalarEvent) -> Any:
        value: str = event.value
        if not event.implicit[0] or event.style:
            return self._unseen(event) if event.style == '"' and UNSEEN.search(value) else value
        self._check_tabs(event)
        if value in _WORDS:
            return _WORDS[value]
        if value[0] not in _NUMERIC:
            return self._printed(event) if value[0] in _PRINTED else value
        if _NO_NUMBER.fullmatch(value):
            return self._no_number(event)
        return self._number(event) if _NUMBER.fullmatch(value) else value

    def _number(self, event: ScalarEvent) -> Any:
        text: str = event.value
        whole = _WHOLE.fullmatch(text) is not None
        if whole and len(text.lstrip("+-")) <= _MOST_DIGITS:
            return int(text)
        number = float(text)
        return self._no_number(event) if whole or math.isinf(number) else number

    def _check_tabs(self, event: ScalarEvent) -> None:
        """A tab under a plain scalar silently glues the next line to it."""
        for line in range(_line(event.start_mark) + 1, _line(event.end_mark) + 1):
            if line < len(self.lines) and (tab := re.match(r" *\t\s*\S", self.lines[line])):
                column = tab[0].index("\t") + 1
                self.faults.append(tab_fault(Origin(self.name, line + 1, column)))

    def _alias(self, event: AliasEvent) -> Any:
        self._aliases += 1
        name = event.anchor or ""
        self._repeated += self._sizes.get(name, 0)
        self._values += self._sizes.get(name, 0)
        if self._aliases > MOST_ALIASES or self._repeated > MOST_REPEATED:
            self._too_many_aliases(event)
        if name in self._open or name not in self._anchors:
            return self._lost_alias(event, itself=name in self._open)
        return self._anchors[name]

    # --- faults ---

    def _at(self, event: Event) -> Origin:
        mark = event.start_mark
        return Origin(self.name, mark.line + 1, mark.column + 1) if mark else Origin(self.name)

    def _fault(self, rule: str, event: Event, says: str, mend: str = "", example: str = "") -> Any:
        self.faults.append(fault(rule, self._at(event), says, mend, example))
        return UNREADABLE

    def _not_a_mapping(self, value: Any) -> None:
        if self.faults:
            return
        origin = Origin(self.name, 1, 1)
        if value is None:
            says = _("{name} is empty.").format(name=self.name)
            mend = _("Write a record in it, or delete the file.")
            self.faults.append(fault("empty-file", origin, says, mend, _RECORD))
        else:
            says = _("{name} holds {what}, not records by id.")
            says = says.format(name=self.name, what=_kind(value))
            mend = _("Begin every line with a key, a colon and a space.")
            self.faults.append(fault("not-a-mapping", origin, says, mend, _RECORD))

    def _second_document(self, event: Event) -> None:
        says = _("A second document begins here (`---`); only one is read.")
        self._fault("several-documents", event, says, _("Delete the line or split the file."))

    def _tag(self, event: ScalarEvent | CollectionStartEvent) -> bool:
        says = _("`{tag}` is a YAML tag, and tags are not read.")
        says = says.format(tag=(event.tag or "").replace("tag:yaml.org,2002:", "!!"))
        mend = _("Leave the tag out; put quotes around text that begins with `!`.")
        self._fault("tag", event, says, mend, 'says: "!important"')
        return True

    def _too_deep(self, event: Event) -> None:
        says = _("Values are nested more than {n} deep here.").format(n=DEEPEST)
        self._fault("too-deep", event, says, _("Write it with fewer levels."))
        raise _Stop

    def _too_many_aliases(self, event: Event) -> None:
        if self._aliases > MOST_ALIASES:
            says = _("The file repeats values by alias (`*`) more than {n} times.")
            says = says.format(n=MOST_ALIASES)
        else:
            says = _("What aliases (`*`) repeat comes to more than {n} values.")
            says = says.format(n=MOST_REPEATED)
        self._fault("too-many-aliases", event, says, _("Write the values out."))
        raise _Stop

    def _lost_alias(self, event: AliasEvent, *, itself: bool) -> Any:
        says = _("`*{name}` stands inside `&{name}` itself.") if itself else _(
            "`*{name}` repeats a value that nothing before it names (`&{name}`)."
        )  # fmt: skip
        mend = _("Write the value out, or put quotes around text that begins with `*`.")
        example = f'says: "*{event.anchor}"'
        return self._fault("alias", event, says.format(name=event.anchor), mend, example)

    def _duplicate(self, key: str, mapping: Located, again: Origin) -> None:
        says = _("The key `{key}` is on line {again} and already on line {first}.")
        first = mapping.key_origins[key].line
        says = says.format(key=_short(key), again=again.line, first=first)
        right = f"{_short(key)}: {_as_written(mapping.written.get(key, ''))}".rstrip()
        self.faults.append(fault("duplicate-key", again, says, _("Keep one of the two."), right))

    def _odd_key(self, event: Event) -> None:
        if isinstance(event, ScalarEvent) and event.value:
            says = _("The key `{key}` is not read as words.").format(key=_short(event.value))
            mend, example = _("Put quotes around it."), f'"{event.value}":'
        else:
            says = _("A key is missing, or is more than one word, here.")
            mend, example = _("Write one word before the colon."), "width: 750 mm"
        self._fault("key", event, says, mend, example)

    def _unseen(self, event: ScalarEvent) -> Any:
        says = _("An escape in this text stands for an unseen control character.")
        return self._fault("control-character", event, says, _("Leave the escape out."))

    def _printed(self, event: ScalarEvent) -> Any:
        """Text in a printed page's quotes is text; a whole value in them was meant to be quoted."""
        value: str = event.value
        if len(value) < 2 or value[-1] not in _PRINTED:
            return value
        self.faults.append(printed_quotes_fault(self._at(event)))
        return UNREADABLE

    def _no_number(self, event: ScalarEvent) -> Any:
        says = _("`{text}` is not a number that anything can be worked out with.")
        mend = _("Write the number out, or put quotes around it where words are meant.")
        text = _short(event.value)
        return self._fault("not-a-number", event, says.format(text=text), mend, "width: 750 mm")


_WORDS: dict[str, bool | None] = {
    **dict.fromkeys(("", "~", "null", "Null", "NULL"), None),
    **dict.fromkeys(("true", "True", "TRUE"), True),
    **dict.fromkeys(("false", "False", "FALSE"), False),
}
_PRINTED = frozenset("“”„")
_NUMERIC = frozenset("+-.0123456789")  # what a number can begin with
_WHOLE = re.compile(r"[-+]?(?:0|[1-9][0-9]*)")
# A leading zero is a number's name (a key safe, a batch), not its size: 007 stays words.
_NUMBER = re.compile(r"[-+]?(?:\.[0-9]+|(?:0|[1-9][0-9]*)(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?")
_NO_NUMBER = re.compile(r"[-+]?\.(?:inf|Inf|INF)|\.(?:nan|NaN|NAN)")
_RECORD = "band-saw:\n  name: Band saw"


def _line(mark: Any) -> int:
    return mark.line if mark else 0


def _kind(value: Any) -> str:
    if isinstance(value, LocatedList):
        return _("a list")
    return _("words") if isinstance(value, str) else _("a single value")


def _as_written(value: str) -> str:
    """A value in quotes, unless it plainly needs none."""
    plain = re.fullmatch(r"(?:[\w°][\w °²³%./,()-]*)?", value)
    return _short(value) if plain else json.dumps(_short(value), ensure_ascii=False)


def _short(text: str) -> str:
    return text if len(text) <= 40 else text[:39] + "…"
