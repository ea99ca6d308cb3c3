"""Reads the reference tables, each once and only when it is asked for."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache
from types import MappingProxyType
from typing import Any

import yaml

from generator.ground.resources import reference_file
from generator.ground.working import Source
from generator.reference import records as r

Raw = dict[str, Any]
Columns = Mapping[str, Mapping[str, str]]

# The tables are our own files, so the plain loader does; the C one where it is there.
_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_VALUE_KEYS = ("value", "unit", "source", "status", "jurisdiction", "bound", "note")


# --- reading -----------------------------------------------------------------------------------


@cache
def raw(name: str) -> Raw:
    """A table as it stands in its file. Nobody changes it."""
    text = reference_file(f"{name}.yml").read_text(encoding="utf-8")
    loaded: Raw = yaml.load(text, Loader=_LOADER)
    return loaded


@cache
def sources() -> Mapping[str, r.SourceRow]:
    return MappingProxyType({key: r.SourceRow(**row) for key, row in raw("sources").items()})


def value(given: Any, **defaults: str) -> r.Value:
    """A figure from what a table holds: a number, ``[low, high]``, or a map with a source."""
    own = given if isinstance(given, dict) else {"value": given}
    merged = {**defaults, **own}
    return r.Value(**{**_cited(merged["source"]), **merged})


def _cited(source: str) -> dict[str, str]:
    row = sources()[source]
    return {"cite": row.cite, "status": row.status}


def _sourced(row: Raw) -> Raw:
    """The row with its source's citation and status beside the key."""
    return {**_cited(row["source"]), **row}


def _uncited_key(row: Raw) -> Raw:
    return {key: kept for key, kept in _sourced(row).items() if key != "source"}


def _figures(row: Raw, columns: Columns) -> Raw:
    """The row with every figure of a column made a Value, its variants too."""
    made = {k: value(v, **columns[k]) if k in columns else v for k, v in row.items()}
    if "variants" in row:
        made["variants"] = {
            k: value(v, **columns[k.partition(".")[0]]) for k, v in row["variants"].items()
        }
    return made


def _value_of(row: Raw) -> r.Value:
    """The figure that stands in a row beside other keys."""
    return value({k: row[k] for k in _VALUE_KEYS if k in row})


def _rest(row: Raw) -> Raw:
    return {k: v for k, v in row.items() if k not in _VALUE_KEYS}


# --- polymers ----------------------------------------------------------------------------------


@cache
def polymers() -> Mapping[str, r.Polymer]:
    """The polymers with figures, by ISO 1043 code."""
    table = raw("polymers")
    return MappingProxyType(
        {code: _polymer(code, row, table["columns"]) for code, row in table["rows"].items()}
    )


def _polymer(code: str, row: Raw, columns: Columns) -> r.Polymer:
    made = _figures(row, columns)
    made["drying"] = tuple(_drying(d, columns) for d in row.get("drying", ()))
    made["windows"] = {p: _window(code, p, w, columns) for p, w in row["windows"].items()}
    made["drying_note"] = _note(row.get("drying_note"))
    made["fumes"] = tuple(r.Fume(**_sourced(f)) for f in row["fumes"])
    return r.Polymer(code=code, **made)


def _note(row: Raw | None) -> r.Note | None:
    return r.Note(**_sourced(row)) if row else None


def _drying(row: Raw, columns: Columns) -> r.Drying:
    return r.Drying(
        temperature=value(row["temperature"], **columns["drying_temperature"]),
        time=value(row["time"], **columns["drying_time"]),
        form=row.get("form", ""),
    )


def _window(code: str, process: r.Process, given: Any, columns: Columns) -> r.Window:
    if not isinstance(given, str):
        run = value(given, **columns[process])
        return r.Window(process=process, stance="run", temperature=run)
    return r.Window.model_validate(
        {"process": process, "stance": given, "reason": _why_not(code, given)}
    )


def _why_not(code: str, stance: str) -> str:
    if stance == "avoid":
        return str(raw("polymers")["avoid_reason"])
    return causes()[codes()[code].cause].reason


# --- what is never heated, and the other codes -------------------------------------------------


@cache
def causes() -> Mapping[str, r.Cause]:
    """Why something is never heated: by what it is (``pvc``) or what it holds (``foam``)."""
    table = raw("never_heat")
    rows = {**table["groups"], **table["conditions"]}
    return MappingProxyType({key: r.Cause(key=key, **_sourced(row)) for key, row in rows.items()})


@cache
def conditions() -> Mapping[str, str]:
    """Every word for a condition, and its key."""
    keys = raw("never_heat")["conditions"]
    words = {key: (key, *causes()[key].aliases) for key in keys}
    return MappingProxyType({word: key for key, ws in words.items() for word in ws})


@cache
def codes() -> Mapping[str, r.Code]:
    """Every code of ISO 1043 that is known here, with figures or without."""
    rows = (*_polymer_codes(), *_never_codes(), *_other_codes())
    return MappingProxyType({row.code: row for row in rows})


def _polymer_codes() -> Iterable[r.Code]:
    never = raw("never_heat")["codes"]
    for code, row in raw("polymers")["rows"].items():
        cause = never.get(code, {}).get("group", "")
        yield r.Code(code=code, name=row["name"], aliases=row["aliases"], cause=cause, figures=True)


def _never_codes() -> Iterable[r.Code]:
    for code, row in raw("never_heat")["codes"].items():
        if "name" in row:
            aliases = row.get("aliases", ())
            yield r.Code(code=code, name=row["name"], aliases=aliases, cause=row["group"])


def _other_codes() -> Iterable[r.Code]:
    for code, row in raw("codes")["rows"].items():
        yield r.Code(code=code, **row)


@cache
def dangers() -> tuple[r.Danger, ...]:
    """The pairs that are kept apart."""
    return tuple(r.Danger(**_uncited_key(row)) for row in raw("never_heat")["never_together"])


@cache
def contaminants() -> tuple[r.Contaminant, ...]:
    rows = raw("compatibility")["contamination"]
    return tuple(r.Contaminant(most=_value_of(row), **_rest(row)) for row in rows)


# --- limits ------------------------------------------------------------------------------------


@cache
def limits() -> Mapping[str, r.Limit]:
    """Every limit and planning figure, by id."""
    rows = {**raw("limits"), **raw("process")["figures"]}
    return MappingProxyType({key: _limit(key, row) for key, row in rows.items()})


def _limit(key: str, row: Raw) -> r.Limit:
    values = row.get("values") or [{k: row[k] for k in _VALUE_KEYS if k in row}]
    return r.Limit(
        id=key, title=row["title"], values=tuple(value(v, unit=row["unit"]) for v in values)
    )


@cache
def cavity_pressures() -> Mapping[str, r.Value]:
    """Pressure in the cavity [MPa], by polymer and by machine class."""
    table = raw("process")["cavity_pressure"]
    column = table["columns"]["pressure"]
    rows = {**table["by_polymer"], **table["by_machine"]}
    return MappingProxyType({key: value(given, **column) for key, given in rows.items()})


# --- signs and what is worn --------------------------------------------------------------------


@cache
def sign_classes() -> Mapping[str, r.SignClass]:
    table = raw("signs")
    return MappingProxyType({k: _sign_class(k, row, table) for k, row in table["classes"].items()})


def _sign_class(key: str, row: Raw, table: Raw) -> r.SignClass:
    contrast = value(row["contrast"], unit=":1", source=table["class_source"])
    share = value(
        {"value": row["safety_colour_share"], "bound": "at least"},
        unit="%",
        source=table["share_source"],
    )
    return r.SignClass(key=key, **{**row, "contrast": contrast, "safety_colour_share": share})


@cache
def panels() -> Mapping[str, r.Panel]:
    rows = raw("signs")["panels"]
    return MappingProxyType({k: r.Panel(key=k, **_uncited_key(row)) for k, row in rows.items()})


@cache
def signs() -> Mapping[str, r.Sign]:
    """The registered signs, by ISO 7010 code."""
    rows = raw("signs")["registry"]
    return MappingProxyType({code: _sign(code, row) for code, row in rows.items()})


def _sign(code: str, row: Raw) -> r.Sign:
    source = "iso-7010-listing" if row["check"] == "confirmed" else "iso-7010"
    return r.Sign(
        code=code, kind=row["class"], refers=row["refers"], check=row["check"], **_cited(source)
    )


@cache
def sign_gaps() -> Mapping[str, r.SignGap]:
    rows = raw("signs")["gaps"]
    return MappingProxyType({key: r.SignGap(key=key, **row) for key, row in rows.items()})


@cache
def asked_for() -> Mapping[str, r.Asked]:
    """What asks for signs, by what it is."""
    table = raw("signs")
    cited = _cited(table["asked_source"])
    rows = table["asked_for"].items()
    return MappingProxyType({key: r.Asked(key=key, **row, **cited) for key, row in rows})


@cache
def contradictions() -> tuple[r.Contradiction, ...]:
    rows = raw("signs")["contradictions"].items()
    return tuple(r.Contradiction(key=key, **row) for key, row in rows)


@cache
def panels_in() -> frozenset[str]:
    """The places whose custom signal-word panels are."""
    return frozenset(raw("signs")["panels_in"])


@cache
def ppe() -> Mapping[str, r.Ppe]:
    rows = raw("ppe")["rows"]
    return MappingProxyType({k: _ppe(k, row) for k, row in rows.items()})


def _ppe(key: str, row: Raw) -> r.Ppe:
    return r.Ppe(id=key, **{**row, "note": _note(row.get("note"))})


# --- power -------------------------------------------------------------------------------------


@cache
def sockets() -> Mapping[str, r.Socket]:
    rows = raw("supplies")["sockets"]
    return MappingProxyType({key: r.Socket(id=key, **row) for key, row in rows.items()})


@cache
def supplies() -> Mapping[str, r.Supply]:
    """Mains supplies, by key; a region's usual one has the region's own key."""
    table = raw("supplies")
    return MappingProxyType({key: _supply(key, row, table) for key, row in table["rows"].items()})


def _supply(key: str, row: Raw, table: Raw) -> r.Supply:
    where = {"source": table["source"], "jurisdiction": row["region"]}
    volts = {k: value(row[k], unit=unit, **where) for k, unit in table["units"].items()}
    ratings = table["ratings"][row["rule"]]
    made = {
        "rule_status": sources()[table["source"]].status,
        **row,
        **volts,
        "sockets": tuple(sockets()[s] for s in row.get("sockets", ())),
        "ratings": ratings["values"],
        "ratings_source": Source(**_cited(ratings["source"])),
    }
    return r.Supply(key=key, **made)


@cache
def cables() -> tuple[r.Cable, ...]:
    """Copper cables with PVC insulation, from thin to thick."""
    table = raw("cables")
    return tuple(r.Cable(**_figures(row, table["columns"])) for row in table["rows"].values())


@cache
def small_copper() -> Mapping[str, r.Value]:
    """The largest device [A] for a small copper conductor in the US, by gauge."""
    return MappingProxyType({k: value(v) for k, v in raw("cables")["small_copper"].items()})


# --- containers, machines, baths, stores -------------------------------------------------------


@cache
def containers() -> Mapping[str, r.Container]:
    table = raw("containers")
    return MappingProxyType(
        {k: r.Container(id=k, **_figures(v, table["columns"])) for k, v in table["rows"].items()}
    )


@cache
def label_grids() -> Mapping[str, r.LabelGrid]:
    table = raw("label_grids")
    cited = _cited(table["source"])
    return MappingProxyType(
        {k: r.LabelGrid(id=k, **cited, **row) for k, row in table["rows"].items()}
    )


@cache
def machine_classes() -> Mapping[str, r.MachineClass]:
    table = raw("machine_classes")
    return MappingProxyType(
        {k: r.MachineClass(id=k, **_figures(v, table["columns"])) for k, v in table["rows"].items()}
    )


@cache
def media() -> Mapping[str, r.Medium]:
    table = raw("media")
    return MappingProxyType(
        {key: _medium(key, row, table["columns"]) for key, row in table["media"].items()}
    )


def _medium(key: str, row: Raw, columns: Columns) -> r.Medium:
    points = tuple(r.BathPoint(**_figures(p, columns)) for p in row["points"])
    return r.Medium(id=key, **{**row, "points": points})


@cache
def cuts() -> tuple[r.Cut, ...]:
    table = raw("media")
    return tuple(r.Cut(**_figures(row, table["cut_columns"])) for row in table["cuts"])


@cache
def inseparable() -> tuple[r.Inseparable, ...]:
    return tuple(r.Inseparable(**_sourced(row)) for row in raw("media")["not_separable"])


@cache
def notes(table: str) -> tuple[r.Note, ...]:
    """What else to know about the subject of a table (``media``, ``emissions``)."""
    return tuple(r.Note(**_sourced(row)) for row in raw(table)["notes"])


@cache
def loose() -> Mapping[str, r.Loose]:
    table = raw("bulk")
    return MappingProxyType(
        {k: r.Loose(id=k, **_figures(v, table["columns"])) for k, v in table["rows"].items()}
    )


@cache
def emissions() -> Mapping[str, r.Emission]:
    rows = raw("emissions")["rows"]
    return MappingProxyType(
        {k: r.Emission(id=k, rate=_value_of(row), **_rest(row)) for k, row in rows.items()}
    )


@cache
def substances() -> Mapping[str, r.Substance]:
    rows = raw("emissions")["substances"]
    return MappingProxyType({key: _substance(key, row) for key, row in rows.items()})


def _substance(key: str, row: Raw) -> r.Substance:
    return r.Substance(id=key, name=row["name"], molar_mass=value(row["molar_mass"]))


# --- guards and lifting ------------------------------------------------------------------------


@cache
def lifting() -> Mapping[tuple[str, str, str], r.Value]:
    """Screening weights [kg] by reach (``close``, ``arm``), height and who."""
    table = raw("lifting")
    source = {"close": table["source"], "arm": table["arm_source"]}
    return MappingProxyType(
        {
            (reach, height, who): value(kg, unit=table["unit"], source=source[reach])
            for reach in source
            for height, by_who in table[reach].items()
            for who, kg in by_who.items()
        }
    )


@cache
def guards() -> Mapping[str, tuple[tuple[float, r.Value], ...]]:
    """Openings [mm] up to which a distance [mm] holds, by shape, narrow first."""
    table = raw("guards")
    return MappingProxyType({shape: _guard(table, shape) for shape in ("slot", "square")})


def _guard(table: Raw, shape: str) -> tuple[tuple[float, r.Value], ...]:
    given = {"unit": table["unit"], "source": table["source"]}
    return tuple(
        (float(up_to), value({"value": mm, "bound": "at least"}, **given))
        for up_to, mm in table[shape]
    )


@cache
def short_slot() -> tuple[float, float, r.Value]:
    """Length and width [mm] up to which a slot stops the thumb, and the distance then [mm]."""
    table = raw("guards")
    row = table["short_slot"]
    distance = {"value": row["distance"], "bound": "at least"}
    return row["length"], row["width"], value(distance, unit="mm", source=table["source"])
