"""The tables against the figures they were taken from, typed out a second time by hand."""

from __future__ import annotations

import pytest

from generator.reference import Process, Value, reference

REF = reference()

# code, solid and melt density, melting, glass,
# injection, extrusion, press, mould, moisture, shrinkage
PROCESSING = """
PET   1330-1400 1170 245-265 70-80   271-310 265-285 avoid   15-40  0.005 0.1-2.3
PE-HD 941-967   750  125-137 none    182-274 170-220 170-200 16-43  none  1.5-5.0
PVC   1300-1450 1250 none    75-85   refuse  refuse  refuse  none   none  0.2-0.6
PE-LD 910-940   750  105-115 none    160-240 150-200 140-170 16-43  none  1.5-3.5
PP    895-915   740  160-170 -10     204-260 190-240 180-210 21-49  none  1.2-2.4
PS    1040-1060 950  none    90-105  204-249 170-220 160-190 16-82  0.1   0.3-0.8
ABS   1030-1070 950  none    100-110 199-282 190-240 190-220 38-82  0.1   0.5-0.9
PLA   1240-1250 1080 145-175 55-65   200     180-210 170-190 25     0.025 0.3-0.5
PC    1190-1220 1060 none    145-150 271-321 250-280 230-260 66-107 0.02  0.5-0.8
PA6   1120-1150 980  215-225 50      238-288 230-260 230-245 71-104 0.2   1.5-2.5
"""

# code, cp solid, cp melt, latent, diffusivity in 1e-7,
# ejection, decomposition, regrind density, heat of combustion
THERMAL = """
PET   1250 1950 45  0.9  60-70   283-306 250-400 22.2-24.1
PE-HD 2300 2550 200 1.0  60-80   335-450 300-450 46.2-47.7
PVC   1000 1500 0   0.8  none    200-300 400-650 18-20
PE-LD 2400 2550 120 1.0  45-60   335-450 300-400 46.2-47.7
PP    2000 2700 95  0.75 70-90   328-410 300-450 45.8-46.4
PS    1500 2000 0   0.9  70-80   300-400 350-500 42.5-43.7
ABS   1500 2200 0   0.9  80-90   300     400-550 35
PLA   1400 1950 20  0.8  45      230     350-550 18-19
PC    1350 1900 0   1.1  110-125 420-620 450-600 31.0-31.3
PA6   1900 2700 70  1.0  90-110  310-380 400-550 30-31
"""

# code, form, temperature, hours
DRYING = """
PET any         121-135 3-4
PET bottle_flake 160    4-6
PS  any         66-77   1-2
ABS any         82-93   2-4
PLA amorphous   50      3-12
PLA crystalline 65-85   4-6
PC  any         121     4
PA6 any         82      2-4
"""


def _lines(text: str) -> list[list[str]]:
    return [line.split() for line in text.strip().splitlines()]


def _pair(word: str) -> tuple[float, float]:
    """``182-274`` as (182, 274), ``-10`` as (-10, -10)."""
    low, dash, high = word.partition("-")
    return (float(low), float(high)) if low and dash else (float(word), float(word))


def _held(value: Value | None, word: str) -> bool:
    if word == "none":
        return value is None
    return value is not None and (value.low, value.high) == _pair(word)


@pytest.mark.parametrize("line", _lines(PROCESSING), ids=lambda line: line[0])
def test_processing_figures(line: list[str]) -> None:
    polymer = REF.polymer(line[0])
    fields = ["density_solid", "density_melt", "melting", "glass"]
    got = dict(zip(fields, line[1:5], strict=True))
    got |= dict(zip(["mould", "max_moisture", "shrinkage"], line[8:], strict=True))
    assert [f for f, word in got.items() if not _held(getattr(polymer, f), word)] == []


@pytest.mark.parametrize("line", _lines(PROCESSING), ids=lambda line: line[0])
def test_windows(line: list[str]) -> None:
    processes: tuple[Process, ...] = ("injection", "extrusion", "press")
    for process, word in zip(processes, line[5:8], strict=True):
        window = REF.window(line[0], process)
        if word in ("avoid", "refuse"):
            assert (window.stance, window.temperature) == (word, None)
        else:
            assert window.stance == "run"
            assert _held(window.temperature, word)


@pytest.mark.parametrize("line", _lines(THERMAL), ids=lambda line: line[0])
def test_thermal_figures(line: list[str]) -> None:
    polymer = REF.polymer(line[0])
    fields = ["cp_solid", "cp_melt", "latent", "ejection", "decomposition", "regrind_density"]
    words = [*line[1:4], *line[5:8]]
    got = dict(zip([*fields, "heat_gross"], [*words, line[8]], strict=True))
    assert [f for f, word in got.items() if not _held(getattr(polymer, f), word)] == []
    assert polymer.diffusivity.low == pytest.approx(float(line[4]) * 1e-7)


def test_drying() -> None:
    got = [
        (code, d.form or "any", (d.temperature.low, d.temperature.high), (d.time.low, d.time.high))
        for code, polymer in REF.polymers.items()
        for d in polymer.drying
    ]
    typed = [(c, f.replace("_", " "), _pair(t), _pair(h)) for c, f, t, h in _lines(DRYING)]
    assert sorted(got) == sorted(typed)


@pytest.mark.parametrize(
    ("code", "key", "word", "status"),
    [
        ("PET", "mould.crystalline", "88-121", "published"),
        ("PET", "shrinkage.amorphous", "0.2-0.6", "handbook"),
        ("PET", "latent.fully-crystalline", "140", "handbook"),
        ("PE-HD", "latent.fully-crystalline", "293", "published"),
        ("PE-LD", "latent.fully-crystalline", "293", "published"),
        ("PP", "latent.fully-crystalline", "207", "published"),
        ("PP", "cp_solid.at-20-degrees", "1764", "published"),
        ("PVC", "decomposition.hydrogen-chloride-from", "140", "handbook"),
        ("PVC", "density_solid.plasticised", "1160-1350", "handbook"),
        ("PLA", "mould.crystalline", "90-110", "handbook"),
        ("PLA", "latent.fully-crystalline", "93", "handbook"),
        ("PA6", "shrinkage.thin", "0.8-1.5", "handbook"),
        ("PA6", "latent.fully-crystalline", "230", "published"),
        ("PE-LD", "regrind_density.film-fluff", "30-150", "handbook"),
        ("PP", "diffusivity.as-printed", "0.65e-7", "published"),
        ("PS", "diffusivity.as-printed", "0.6e-7", "published"),
    ],
)
def test_the_same_quantity_from_another_source(code: str, key: str, word: str, status: str) -> None:
    value = REF.polymer(code).variants[key]
    low, high = (float(word), float(word)) if "e" in word else _pair(word)
    assert (value.low, value.high, value.status) == (low, high, status)


def test_hygroscopic_polymers() -> None:
    wet = {code for code, polymer in REF.polymers.items() if polymer.hygroscopic}
    assert wet == {"PET", "PLA", "PC", "PA6", "ABS"}


def test_recycling_numbers() -> None:
    numbers = {code: polymer.recycling_code for code, polymer in REF.polymers.items()}
    assert numbers == {
        "PET": 1, "PE-HD": 2, "PVC": 3, "PE-LD": 4, "PP": 5, "PS": 6,
        "ABS": 7, "PLA": 7, "PC": 7, "PA6": 7,
    }  # fmt: skip


def test_no_minutes_are_invented_for_hot_hold() -> None:
    assert {polymer.longest_hot_hold for polymer in REF.polymers.values()} == {None}


def test_net_heats_for_a_fire_load() -> None:
    net = {c: p.heat_net.low for c, p in REF.polymers.items() if p.heat_net}
    assert net == {
        "PET": 30, "PE-HD": 40, "PVC": 20, "PE-LD": 40, "PP": 40, "PS": 40, "ABS": 35,
    }  # fmt: skip


MATRIX = """
PE-HD G L N N X N
PP    L G N N X N
PS    N N G N X L
PET   N N N G X N
ABS   N N L N X G
"""


@pytest.mark.parametrize("line", _lines(MATRIX), ids=lambda line: line[0])
def test_compatibility_chart(line: list[str]) -> None:
    minors = ("PE-HD", "PP", "PS", "PET", "PVC", "ABS")
    assert [REF.compatible(line[0], minor).worst for minor in minors] == line[1:]


# id, place, figures, unit
LIMITS = """
aisle-one-way                     EU 900      mm
aisle-two-way                     EU 1200     mm
machine-walkway-minimum           EU 600      mm
machine-walkway-preferred         EU 800      mm
machine-walkway-crossing          EU 1000     mm
wheelchair-route                  US 915      mm
wheelchair-pinch                  US 815      mm
wheelchair-pinch-length           US 610      mm
wheelchair-passing                US 1525     mm
turning-circle                    US 1525     mm
turning-circle                    EU 1500     mm
machine-clearance-front           EU 1000     mm
machine-clearance-serviced        EU 600-800  mm
crush-gap-body                    EU 500      mm
crush-gap-head                    EU 300      mm
crush-gap-leg                     EU 180      mm
crush-gap-arm                     EU 120      mm
crush-gap-hand                    EU 100      mm
crush-gap-finger                  EU 25       mm
panel-clear-width                 US 760      mm
panel-clear-height                US 1980     mm
exit-access-width                 US 711      mm
exit-access-ceiling               US 2300     mm
exit-access-projection            US 2000     mm
exit-door-people-750              UK 60       people
exit-door-people-850              UK 110      people
exit-door-people-1050             UK 220      people
exit-width-per-person             UK 5        mm/person
exit-width-per-person             US 5.1      mm/person
exit-stair-width-per-person       US 7.6      mm/person
exit-door-clear-width             US 813      mm
exit-travel-one-direction-higher-risk UK 12   m
exit-travel-one-direction         UK 18       m
exit-travel-one-direction-lower-risk  UK 25   m
exit-travel-alternatives-higher-risk  UK 25   m
exit-travel-alternatives          UK 45       m
exit-travel-alternatives-lower-risk   UK 60   m
floor-space-per-person            UK 5        m²/person
floor-space-per-person            US 4.65     m²/person
floor-space-per-person-industrial US 9.3      m²/person
air-space-per-person              UK 11       m³/person
air-space-height-cap              UK 3        m
extinguisher-travel-class-a       US 22.9     m
extinguisher-travel-class-a       UK 30       m
extinguisher-travel-class-b       US 15.2     m
eyewash-walk-time                 EU 10       s
reach-up-low-risk                 EU 2500     mm
reach-up-high-risk                EU 2700     mm
noise-lower-action                EU 80       dB(A)
noise-upper-action                UK 85       dB(A)
noise-limit                       EU 87       dB(A)
noise-limit                       US 90       dB(A)
noise-upper-action                US 85       dB(A)
noise-exchange-rate               US 5        dB
noise-peak-lower                  EU 135      dB(C)
noise-peak-upper                  UK 137      dB(C)
noise-peak-limit                  UK 140      dB(C)
continuous-load-factor            US 1.25     -
continuous-load-share             US 80       %
grouping-factor-2                 EU 0.80     -
grouping-factor-3                 EU 0.70     -
ambient-factor-40                 EU 0.87     -
diversity-heaters                 EU 0.6-0.8  -
diversity-motors                  EU 0.5-0.7  -
diversity-sockets                 EU 0.4      -
voltage-imbalance-target          EU 1        %
voltage-imbalance-limit           EU 5        %
voltage-drop-lighting             UK 3        %
voltage-drop-power                UK 5        %
motor-start                       EU 5-8      ×
residual-current                  EU 30       mA
residual-current                  US 5        mA
mixing-factor                     EU 3-10     -
capture-heated-plastic            EU 0.5      m/s
capture-active                    EU 1.0-2.5  m/s
duct-fume                         EU 10-13    m/s
outdoor-air-per-person            US 5        l/s/person
outdoor-air-per-area              US 0.9      l/s/m²
outdoor-air-class-per-area        US 0.6      l/s/m²
carbon-dioxide-child              EU 0.0037   l/s
carbon-dioxide-adult              EU 0.0065   l/s
light-corridor                    EU 100      lx
light-machine                     EU 300      lx
light-fine                        EU 500      lx
emergency-light-open-area         EU 0.5      lx
burn-metal-1s                     EU 65       °C
burn-metal-10s                    EU 55       °C
burn-metal-1min                   EU 51       °C
burn-plastic-1s                   EU 85       °C
burn-plastic-10s                  EU 71       °C
burn-plastic-1min                 EU 60       °C
burn-plastic-10min                EU 48       °C
burn-plastic-8h                   EU 43       °C
burn-cooling                      EU 20       min
learners-per-teacher              UK 20       people
people-per-helper-hot             EU 4-8      people
age-hot-side                      EU 16       years
store-stack-height                EU 1.5      m
lift-default                      UK 16       kg
floor-load-public                 EU 5        kPa
exposure-styrene-8h               UK 100      ppm
exposure-styrene-short            UK 250      ppm
exposure-styrene-short            US 200      ppm
exposure-carbon-monoxide-8h       UK 20       ppm
exposure-carbon-monoxide-8h       US 50       ppm
exposure-formaldehyde-8h          EU 0.3      ppm
exposure-formaldehyde-short       EU 0.6      ppm
exposure-formaldehyde-8h          US 0.75     ppm
exposure-acetaldehyde-8h          UK 20       ppm
exposure-acetaldehyde-short       UK 50       ppm
exposure-acetaldehyde-8h          US 200      ppm
sign-viewing-factor-5lx           EU 95       -
sign-viewing-factor-100lx         EU 170      -
sign-viewing-factor-200lx         EU 185      -
sign-viewing-factor-400lx         EU 200      -
sign-viewing-factor-escape        EU 100      -
sign-area-divisor                 EU 2000     -
sign-text-divisor                 EU 200      -
sign-mounting-exit                EU 2.0-2.5  m
escape-plan-scale                 EU 250      -
escape-plan-text                  EU 2        mm
escape-plan-symbol                EU 7        mm
escape-plan-header                EU 7        %
loss-sort-dirty-bottles           EU 5-20     %
loss-wash                         EU 3-15     %
loss-grind-fines                  EU 1-3      %
letdown                           EU 1-4      %
letdown-white-black               EU 3-6      %
pigment-in-masterbatch            EU 20-50    %
bath-margin                       EU 10       kg/m³
bath-flake                        EU 10       mm
ethanol-flash-point               EU 25-30    °C
brine-densest                     EU 1197     kg/m³
panel-clear-depth                 US 900      mm
panel-clear-depth-high            US 900-1200 mm
extinguisher-handle-heavy         UK 1.0      m
extinguisher-handle-light         UK 1.5      m
eyewash-walk                      EU 17       m
continuous-load-from              US 3        h
current-imbalance-flag            EU 10-20    %
voltage-drop-branch               US 3        %
voltage-drop-total                US 5        %
motor-conductor                   US 125      %
motor-breaker                     US 250      %
residual-current-up-to            EU 32       A
hood-flanged-factor               EU 0.75     -
hood-canopy-factor                EU 1.4      -
capture-quiet                     EU 0.25-0.5 m/s
capture-low                       EU 0.5-1.0  m/s
duct-vapour                       EU 5-10     m/s
duct-dry-powder                   EU 15-20    m/s
outdoor-air-class-per-person      US 5        l/s/person
light-rough-assembly              EU 200      lx
light-first-aid                   EU 500      lx
emergency-light-route             EU 1        lx
emergency-light-equipment         EU 5        lx
emergency-light-high-risk         EU 15       lx
emergency-light-high-risk-share   EU 10       %
burn-metal-10min                  EU 48       °C
burn-metal-8h                     EU 43       °C
burn-injury-metal-1s              EU 68       °C
burn-injury-metal-10s             EU 57       °C
burn-injury-plastic-1s            EU 93       °C
risk-medium-from                  EU 5        points
risk-high-from                    EU 10       points
risk-stop-from                    EU 17       points
dust-combustible-below            EU 0.5      mm
exposure-carbon-monoxide-short    UK 100      ppm
sign-viewing-factor-lit           EU 200      -
sign-text-divisor-least           EU 300      -
sign-mounting-other               EU 1.5-1.7  m
escape-plan-wall                  EU 1.6      mm
escape-plan-wall-inner            EU 0.6      mm
escape-plan-overview              EU 10       %
loss-purge                        EU 1-3      barrel_volumes
yield-pet-reclaim                 EU 0.819    kg/kg
regrind-loaded-parts              EU 30       %
heats-before-cascade              EU 3-5      heats
heats-before-cascade-polyester    EU 2-3      heats
"""


@pytest.mark.parametrize("line", _lines(LIMITS), ids=lambda line: "-".join(line[:2]))
def test_limits(line: list[str]) -> None:
    key, place, figures, unit = line
    value = REF.limit(key, place)
    assert (value.low, value.high) == _pair(figures)
    assert value.unit == ("" if unit == "-" else unit.replace("_", " "))


@pytest.mark.parametrize(
    ("key", "place", "figure"),
    [
        ("exposure-styrene-8h", "US (NIOSH)", 50),
        ("exposure-styrene-8h", "US (ACGIH)", 10),
        ("exposure-carbon-monoxide-short", "US (NIOSH)", 200),
        ("exposure-formaldehyde-8h", "US (NIOSH)", 0.016),
        ("noise-exchange-rate", "US (NIOSH)", 3),
    ],
)
def test_recommended_limits_stand_beside_the_legal_ones(
    key: str, place: str, figure: float
) -> None:
    assert REF.limit(key, place).value == figure


@pytest.mark.parametrize(
    ("shape", "opening", "distance"),
    [
        ("slot", 4, 2), ("slot", 6, 10), ("slot", 8, 20), ("slot", 10, 80), ("slot", 12, 100),
        ("slot", 20, 120), ("slot", 20.1, 850), ("slot", 120, 850),
        ("square", 6, 5), ("square", 8, 15), ("square", 10, 25), ("square", 12, 80),
        ("square", 30, 120), ("square", 40, 200), ("square", 120, 850),
    ],
)  # fmt: skip
def test_guard_distances(shape: str, opening: float, distance: float) -> None:
    value = REF.guard_distance(opening, shape)  # type: ignore[arg-type]
    assert value is not None
    assert value.value == distance


def test_guard_openings_beyond_the_table_are_asked_about() -> None:
    assert REF.guard_distance(121) is None
    assert REF.guard_distance(120.5, "square") is None


@pytest.mark.parametrize(
    ("opening", "length", "distance"),
    [(30, 65, 200), (30, 66, 850), (31, 65, 850), (18, 60, 120)],
)
def test_a_short_slot_stops_the_thumb(opening: float, length: float, distance: float) -> None:
    value = REF.guard_distance(opening, "slot", length)
    assert value is not None
    assert value.value == distance


def test_lifting_filter() -> None:
    heights = ("head", "shoulder", "elbow", "knuckle", "lower-leg")
    close = [(REF.lifting(h, "men").value, REF.lifting(h, "women").value) for h in heights]  # type: ignore[arg-type]
    arm = [
        (REF.lifting(h, "men", "arm").value, REF.lifting(h, "women", "arm").value)  # type: ignore[arg-type]
        for h in heights
    ]
    assert close == [(10, 7), (20, 13), (25, 16), (20, 13), (10, 7)]
    assert arm == [(5, 3), (10, 7), (15, 10), (10, 7), (5, 3)]


@pytest.mark.parametrize(
    ("key", "to_neutral", "across", "hertz", "rule"),
    [
        ("EU", 230, 400, 50, "iec"), ("UK", 230, 400, 50, "iec"),
        ("US", 120, 240, 60, "nec"), ("US-208", 120, 208, 60, "nec"),
        ("BR", 127, 220, 60, "iec"), ("BR-380", 220, 380, 60, "iec"),
        ("IN", 230, 415, 50, "iec"), ("JP", 100, 200, 50, "iec"), ("JP-60", 100, 200, 60, "iec"),
    ],
)  # fmt: skip
def test_supplies(key: str, to_neutral: float, across: float, hertz: float, rule: str) -> None:
    supply = REF.supply(key)
    assert (supply.to_neutral.value, supply.across.value) == (to_neutral, across)
    assert (supply.frequency.value, supply.rule) == (hertz, rule)


def test_device_ratings() -> None:
    assert REF.supply("EU").ratings == (6, 10, 13, 16, 20, 25, 32, 40, 50, 63)
    assert REF.supply("US").ratings == (15, 20, 25, 30, 35, 40, 45, 50, 60)


@pytest.mark.parametrize("key", ["EU", "UK", "US-208", "BR", "BR-380", "IN"])
def test_three_phase_voltages_are_root_three_apart(key: str) -> None:
    supply = REF.supply(key)
    assert supply.across.low / supply.to_neutral.low == pytest.approx(3**0.5, rel=0.05)


@pytest.mark.parametrize("key", ["US", "JP", "JP-60"])
def test_a_split_phase_doubles(key: str) -> None:
    supply = REF.supply(key)
    assert (supply.legs, supply.across.low) == (2, 2 * supply.to_neutral.low)


def test_cables() -> None:
    rows = [(c.section.value, c.single_phase.value, c.three_phase.value) for c in REF.cables]
    assert rows == [(1.5, 29, 25), (2.5, 18, 15), (4, 11, 9.5), (6, 7.3, 6.4), (10, 4.4, 3.8)]
    assert {c.single_phase.status for c in REF.cables} == {"standard"}
    assert {c.three_phase.status for c in REF.cables} == {"handbook"}


def test_three_phase_drop_is_below_single_phase_drop_by_half_root_three() -> None:
    for cable in REF.cables:
        ratio = cable.three_phase.low / cable.single_phase.low
        assert ratio == pytest.approx(3**0.5 / 2, rel=0.05)


def test_small_copper() -> None:
    assert {k: v.value for k, v in REF.small_copper.items()} == {
        "14 AWG": 15, "12 AWG": 20, "10 AWG": 30,
    }  # fmt: skip


@pytest.mark.parametrize(
    ("key", "inner", "litres"),
    [
        ("euro-400x300", (346, 265), (10, 24)),
        ("euro-600x400-120", (544, 364), (20, 20)),
        ("euro-600x400-170", (544, 364), (31, 31)),
        ("euro-600x400-220", (544, 364), (42, 42)),
        ("euro-600x400-320", (544, 364), (63, 63)),
        ("euro-600x400-420", (544, 364), (85, 85)),
    ],
)
def test_euro_boxes(key: str, inner: tuple[int, int], litres: tuple[int, int]) -> None:
    box = REF.container(key)
    assert box.inner_length and box.inner_width and box.volume
    assert (box.inner_length.value, box.inner_width.value) == inner
    assert (box.volume.low, box.volume.high) == litres


@pytest.mark.parametrize("key", ["120", "170", "220", "320", "420"])
def test_a_box_holds_no_more_than_its_inside(key: str) -> None:
    box = REF.container(f"euro-600x400-{key}")
    assert box.inner_length and box.inner_width and box.outer_height and box.volume
    litres = box.inner_length.low * box.inner_width.low * box.outer_height.low / 1e6
    assert 0.8 * litres < box.volume.low < 1.03 * litres  # volumes and sizes are both rounded


def test_the_worked_box_and_big_bag() -> None:
    box, bag = REF.container("vda-600x400-280"), REF.container("big-bag")
    assert box.inner_length and box.inner_width and box.inner_height
    inside_m3 = box.inner_length.low * box.inner_width.low * box.inner_height.low / 1e9
    assert inside_m3 * 0.9 * 380 == pytest.approx(17.95, abs=0.005)
    assert bag.outer_length and bag.outer_width and bag.safety_factor and bag.rating
    assert bag.outer_length.low * bag.outer_width.low / 1e6 * 1.0 * 350 == pytest.approx(283.5)
    assert bag.safety_factor.value == 5
    assert [v.value for v in bag.variants.values()] == [6, 8]
    assert (bag.rating.low, bag.rating.high) == (500, 1500)


def test_sack_drum_and_tank() -> None:
    sack, drum, tank = (REF.container(key) for key in ("sack", "drum", "ibc"))
    assert _all(sack.outer_width, sack.outer_length, sack.volume, sack.rating) == [
        (500, 500), (800, 800), (40, 60), (25, 25),
    ]  # fmt: skip
    assert _all(drum.diameter, drum.outer_height, drum.volume) == [
        (580, 580), (900, 900), (210, 210),
    ]  # fmt: skip
    assert _all(tank.outer_length, tank.outer_width, tank.outer_height, tank.volume) == [
        (1200, 1200), (1000, 1000), (1160, 1160), (1000, 1000),
    ]  # fmt: skip
    assert tank.empty is not None
    assert (tank.empty.value, tank.empty.bound) == (60, "about")


def _all(*values: Value | None) -> list[tuple[float, float]]:
    return [(value.low, value.high) for value in values if value is not None]


# class, kW, kg/h, kg, dB(A), heat-up
MACHINES = """
blade-granulator 1.5-5   10-60 120-400  85-100 none
slow-shredder    1.5-5.5 10-80 150-600  75-90  none
wash-tub         0.5-4   20-80 30-200   70-85  none
dryer            0.5-4   2-15  20-120   60-75  30
plunger-injector 0.4-1.5 0.3-3 15-120   75     15-30
screw-injector   5-15    2-15  500-2000 70-85  20-45
screw-extruder   1.5-5   1-10  60-300   65-80  30-60
platen-press     3-12    2-10  100-800  75     30-90
oven-clamp       2-4     1-5   50-150   65     15-40
"""


@pytest.mark.parametrize("line", _lines(MACHINES), ids=lambda line: line[0])
def test_machine_classes(line: list[str]) -> None:
    machine = REF.machine_class(line[0])
    got = (machine.power, machine.throughput, machine.mass, machine.noise, machine.heat_up)
    assert [w for v, w in zip(got, line[1:], strict=True) if not _held(v, w)] == []


# class, footprint [m], noise sample
FOOTPRINTS = """
blade-granulator 0.7 1.0 100
slow-shredder    0.8 1.2 none
wash-tub         1   1.5 none
dryer            0.6 0.7 none
plunger-injector 0.5 0.6 none
screw-injector   1   2.5 97-100
screw-extruder   0.5 1.5 90
platen-press     0.8 1.0 none
oven-clamp       0.7 0.7 none
"""


@pytest.mark.parametrize("line", _lines(FOOTPRINTS), ids=lambda line: line[0])
def test_footprints_and_noise_samples(line: list[str]) -> None:
    machine = REF.machine_class(line[0])
    got = (machine.width, machine.length, machine.noise_sample)
    assert [w for v, w in zip(got, line[1:], strict=True) if not _held(v, w)] == []


def test_phases_of_machine_classes() -> None:
    phases = {key: row.phases for key, row in REF.machine_classes.items()}
    assert {k for k, p in phases.items() if p == (1, 3)} == {
        "blade-granulator", "wash-tub", "screw-extruder", "platen-press",
    }  # fmt: skip
    assert {k for k, p in phases.items() if p == (3,)} == {"slow-shredder", "screw-injector"}
    press, extruder = REF.machine_class("platen-press"), REF.machine_class("screw-extruder")
    assert press.single_phase_up_to is not None
    assert press.single_phase_up_to.value == 3.5
    assert extruder.run is not None
    assert extruder.run.value == 3


# medium, % by weight, kg/m³
BATHS = """
water 0 998.2
ethanol 10 981.9
ethanol 30 953.8
ethanol 40 935.2
ethanol 45 924.7
ethanol 50 913.8
salt 4 1026.8
salt 10 1070.7
salt 12 1085.7
salt 16 1116.2
salt 20 1147.8
salt 26 1197.2
sugar 20 1081
sugar 40 1176
sugar 50 1230
sugar 60 1287
sugar 67.1 1332.7
"""


CUTS = [(998, 998), (925, 935), (1071, 1086), (1160, 1180), (1230, 1230), (1290, 1320)]


def test_cuts() -> None:
    assert [(cut.density.low, cut.density.high) for cut in REF.cuts] == CUTS


def test_baths() -> None:
    got = [(m, p.share, p.density.value) for m, row in REF.media.items() for p in row.points]
    assert got == [(m, float(share), float(density)) for m, share, density in _lines(BATHS)]


def test_salt_to_a_litre_follows_from_its_share() -> None:
    points = [p for p in REF.media["salt"].points if p.per_litre]
    assert len(points) == 3
    for point in points:
        share = point.share / 100
        assert point.per_litre is not None
        assert point.per_litre.low == pytest.approx(998.2 * share / (1 - share), abs=0.1)


def test_cavity_pressures() -> None:
    typed = {
        "PE-HD": (21, 34), "PE-LD": (21, 34), "PP": (21, 34), "PS": (21, 34), "ABS": (34, 48),
        "PA6": (34, 48), "PC": (48, 62), "plunger-injector": (5, 15), "platen-press": (0.3, 2),
    }  # fmt: skip
    for key, pressure in typed.items():
        value = REF.cavity_pressure(key)
        assert value is not None
        assert (value.low, value.high, value.unit) == (*pressure, "MPa")


def test_loose_donations() -> None:
    got = {key: (row.density.low, row.density.high) for key, row in REF.loose.items()}
    assert got == {
        "pet-bottles": (18, 24), "pe-hd-bottles": (14, 14), "film": (21, 21), "mixed": (24, 24),
        "caps": (100, 170), "tubs": (40, 100), "expanded-polystyrene": (8, 20),
    }  # fmt: skip
    pounds_per_cubic_yard = 0.45359237 / 0.9144**3
    assert 24 * pounds_per_cubic_yard == pytest.approx(got["pe-hd-bottles"][0], abs=0.3)
    assert 35 * pounds_per_cubic_yard == pytest.approx(got["film"][0], abs=0.3)


def test_molar_masses_give_the_worked_concentration() -> None:
    """Five ppm of styrene is 21.30 mg/m³ at 24.45 l/mol."""
    assert 5 * REF.substance("styrene").molar_mass.low / 24.45 == pytest.approx(21.30, abs=0.005)


# code, class, in our words, how far it was checked
SIGNS = """
W001 warning P
W012 warning P
W016 warning P
W017 warning P
W018 warning confirmed
W019 warning confirmed
W021 warning confirmed
W022 warning confirmed
W024 warning confirmed
W025 warning confirmed
M002 mandatory P
M003 mandatory P
M004 mandatory P
M008 mandatory P
M009 mandatory P
M010 mandatory P
M013 mandatory P
M017 mandatory P
M021 mandatory P
P002 prohibition P
P003 prohibition P
P004 prohibition P
P010 prohibition P
P022 prohibition P
P028 prohibition P
E001 safe P
E002 safe P
E003 safe P
E007 safe P
E011 safe P
E012 safe P
E020 safe confirmed
F001 fire P
F005 fire P
F016 fire P
"""


def test_sign_registry() -> None:
    got = [(s.code, s.kind, s.check) for s in REF.signs.values()]
    assert got == [tuple(line) for line in _lines(SIGNS)]


@pytest.mark.parametrize(
    ("kind", "colour", "ral", "contrast", "share"),
    [
        ("prohibition", "#9B2423", "RAL 3001", 7.86, 35),
        ("mandatory", "#005387", "RAL 5005", 8.12, 50),
        ("warning", "#F9A800", "RAL 1003", 10.63, 50),
        ("safe", "#237F52", "RAL 6032", 4.97, 50),
        ("fire", "#9B2423", "RAL 3001", 7.86, 50),
    ],
)
def test_sign_classes(kind: str, colour: str, ral: str, contrast: float, share: float) -> None:
    frame = REF.sign_class(kind)
    assert (frame.colour, frame.ral) == (colour, ral)
    assert (frame.contrast.value, frame.safety_colour_share.value) == (contrast, share)


@pytest.mark.parametrize(
    ("worn", "code"),
    [
        ("ear-protection", "M003"), ("eye-protection", "M004"), ("safety-footwear", "M008"),
        ("heat-gloves", "M009"), ("work-clothing", "M010"), ("face-shield", "M013"),
        ("respirator", "M017"),
    ],
)  # fmt: skip
def test_what_is_worn_and_its_sign(worn: str, code: str) -> None:
    assert REF.ppe(worn).sign == code
    assert REF.sign(code).kind == "mandatory"


@pytest.mark.parametrize(
    ("host", "minor", "most", "unit"),
    [
        ("PET", "PVC", (20, 50), "ppm"), ("PET", "PP", (30, 80), "ppm"),
        ("PET", "PA6", (50, 200), "ppm"), ("PET", "metal", (10, 50), "ppm"),
        ("PET", "water", (1, 1), "%"), ("PP", "PE-HD", (10, 10), "%"),
        ("PP", "PS", (1, 1), "%"), ("PE-HD", "PET", (0.5, 0.5), "%"),
        ("PLA", "PVC", (0, 0), "%"), ("PE-LD", "wood", (0, 0), "%"),
    ],
)  # fmt: skip
def test_contaminants(host: str, minor: str, most: tuple[float, float], unit: str) -> None:
    rows = [row.most for row in REF.contaminants(host) if minor in row.minor]
    assert [(v.low, v.high, v.unit) for v in rows][:1] == [(*most, unit)]


def test_polypropylene_in_bottles_and_in_long_life_goods() -> None:
    rows = {row.use: row.most.value for row in REF.contaminants("HDPE") if "PP" in row.minor}
    assert rows == {"bottle-type goods": 20, "long-life goods": 5}


@pytest.mark.parametrize(
    ("key", "grid", "label", "first", "step"),
    [
        ("a4-8-99x68", (2, 4), (99.1, 67.7), (4.65, 13.1), (101.6, 67.7)),
        ("a4-10-105x57", (2, 5), (105, 57), (0, 6), (105, 57)),
        ("a4-14-99x38", (2, 7), (99.1, 38.1), (4.65, 15.15), (101.6, 38.1)),
        ("a4-21-64x38", (3, 7), (63.5, 38.1), (7.25, 15.15), (66, 38.1)),
        ("a4-24-64x34", (3, 8), (63.5, 33.9), (7.25, 12.9), (66, 33.9)),
        ("a4-24-70x37", (3, 8), (70, 37), (0, 0.5), (70, 37)),
        ("letter-6-102x85", (2, 3), (101.6, 84.67), (3.97, 12.7), (106.36, 84.67)),
        ("letter-10-102x51", (2, 5), (101.6, 50.8), (3.97, 12.7), (106.36, 50.8)),
        ("letter-30-67x25", (3, 10), (66.68, 25.4), (4.76, 12.7), (69.85, 25.4)),
    ],
)
def test_sheets_of_labels(
    key: str,
    grid: tuple[int, int],
    label: tuple[float, float],
    first: tuple[float, float],
    step: tuple[float, float],
) -> None:
    row = REF.label_grids[key]
    assert ((row.columns, row.rows), (row.width, row.height)) == (grid, label)
    assert ((row.left, row.top), (row.across, row.down)) == (first, step)
