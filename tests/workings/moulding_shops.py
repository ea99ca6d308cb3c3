"""A small shop that moulds: a plunger, a screw, a press and a dryer, one mould for each."""

from __future__ import annotations

from pathlib import Path

from generator.shop.shop import Shop
from tests.small import shop_with

MACHINES = """\
plunger:
  name: Plunger
  kind: plunger-injector
  station: cutting
  electric: {power: 1 kW, voltage: 230 V, phases: one, duty: 40 %, circuit: motors}
  heat: {heat_up: 20 min, soak: 10 min, cool_down: 40 min, highest: 240 °C}
  capacity: {shot: 30 cm³, barrel: 40 cm³, injection: 10 MPa, clamp: 20 kN, platen: 180 x 140 mm,
             daylight: 120 mm}
  settings:
    - {polymer: pp, melt: 210 °C, mould: 40 °C, rate: 0.6 kg/h, hold: 10 s, hot_hold: 20 min,
       purge: 0.09 kg, clean_down: Four strokes of natural PP, clean_down_takes: 8 min}
screw:
  name: Screw
  kind: screw-injector
  station: cutting
  electric: {power: 8 kW, voltage: 400 V, phases: three, duty: 50 %, circuit: motors}
  heat: {heat_up: 30 min, soak: 15 min, cool_down: 50 min, highest: 260 °C}
  capacity: {shot: 45 cm³, barrel: 130 cm³, injection: 90 MPa, clamp: 150 kN,
             platen: 320 x 300 mm, daylight: 340 mm}
  settings:
    - {polymer: pp, melt: 210 °C, mould: 40 °C, rate: 4 kg/h, hold: 6 s}
press:
  name: Press
  kind: platen-press
  station: cutting
  electric: {power: 6 kW, voltage: 400 V, phases: three, duty: 50 %, circuit: motors}
  heat: {heat_up: 35 min, soak: 15 min, cool_down: 2 h, highest: 230 °C}
  capacity: {clamp: 160 kN, platen: 400 x 400 mm, daylight: 110 mm, batch: 1.2 kg}
  settings:
    - {polymer: pp, melt: 200 °C, hold: 42 min, hot_hold: 45 min}
    - {polymer: pe-hd, melt: 185 °C}
"""
POLYMERS = """\
pp: {code: PP, name: Polypropylene, status: taken, own: {density: 905 kg/m³}}
pe-hd:
  code: PE-HD
  name: Polyethylene
  status: taken
  own: {density: 955 kg/m³, flake_density: 380 kg/m³, shrinkage: 2 %}
ps: {code: PS, name: Polystyrene, status: taken, own: {density: 1050 kg/m³}}
"""
MOULDS = """\
hook:
  name: Hook
  machines: [plunger, screw]
  part_volume: 18 cm³
  sprue: 4 cm³
  wall: 4 mm
  projected: 12 cm²
  part_lengths: [100 mm, 20 mm]
  outer: 150 x 100 x 80 mm
  mass: 4 kg
  kept_at: cutting
sheet:
  name: Sheet
  machines: [press]
  part_volume: 900 cm³
  sprue: 0 cm³
  wall: 8 mm
  projected: 1150 cm²
  outer: 400 x 400 x 30 mm
  mass: 10 kg
  cooling: 30 min
  kept_at: cutting
"""
BLENDS = """\
plain:
  name: Plain
  parts: [{polymer: pp, share: 100 %}]
  mixes: melt
  machines: [plunger, screw, press]
"""
TRIALS = "trial,date,machine,mould,blend,result,melt_c,mould_c,pressure_mpa,cycle_s,part_g,fault\n"


def moulding_shop(folder: Path, **files: str) -> Shop:
    """The shop with files written over."""
    given = {"machines": MACHINES, "polymers": POLYMERS, "moulds": MOULDS, "blends": BLENDS}
    return shop_with(folder, **{**given, **files})
