/* The arithmetic of the blend bench: a recipe and the shop's tables in, grams, volume, look and cautions out.
   It knows no page. The workings hold the same in Python, and a test compares the two. */
var benchWork = (function () {
  "use strict";
  var ORDER = ["stop", "fix", "ask", "note"];
  var NARROW = "\u202f";

  function sum(values) {
    return values.reduce(function (total, value) { return total + value; }, 0);
  }

  function fill(sentence, values) {
    return sentence.replace(/\{(\w+)\}/g, function (whole, key) { return key in values ? values[key] : whole; });
  }

  function has(object, key) { return Object.prototype.hasOwnProperty.call(object, key); }

  /* --- numbers as the handbook writes them --- */

  /* To the nearest, and to the even one of two as near: toFixed alone goes up. */
  function fixed(value, digits) {
    var factor = Math.pow(10, digits), doubled = value * factor * 2;
    if (Number.isInteger(doubled) && doubled % 2 !== 0) {
      var low = Math.floor(value * factor);
      return ((low % 2 === 0 ? low : low + 1) / factor).toFixed(digits);
    }
    return value.toFixed(digits);
  }

  function number(value, digits) {
    var text = digits === undefined ? String(Number(value.toPrecision(12))) : fixed(value, digits);
    if (text.indexOf(".") >= 0) text = text.replace(/0+$/, "").replace(/\.$/, "");
    if (text === "-0") text = "0";
    if (Math.abs(value) < 10000) return text;
    var halves = text.split(".");
    halves[0] = halves[0].replace(/\B(?=(\d{3})+$)/g, NARROW);
    return halves.join(".");
  }

  function show(value, unit, digits) { return number(value, digits) + NARROW + unit; }

  function plain(value) { return String(Number(value.toPrecision(6))); }

  /* --- light --- */

  function linear(code) { return code <= 0.04045 ? code / 12.92 : Math.pow((code + 0.055) / 1.055, 2.4); }

  function coded(light) { return light <= 0.0031308 ? 12.92 * light : 1.055 * Math.pow(light, 1 / 2.4) - 0.055; }

  function rgbOf(hex) {
    return [1, 3, 5].map(function (n) { return linear(parseInt(hex.substr(n, 2), 16) / 255); });
  }

  function hexOf(rgb) {
    return "#" + rgb.map(function (band) {
      var code = Math.round(255 * coded(Math.min(1, Math.max(0, band))));
      return (code < 16 ? "0" : "") + code.toString(16);
    }).join("");
  }

  function luminance(rgb) { return 0.2126 * rgb[0] + 0.7152 * rgb[1] + 0.0722 * rgb[2]; }

  function speckle(shares, lights) {
    var total = sum(shares);
    return [0, 1, 2].map(function (band) {
      return sum(shares.map(function (share, n) { return share / total * lights[n][band]; }));
    });
  }

  function absorption(reflectance) {
    var r = Math.min(0.99, Math.max(0.01, reflectance));
    return (1 - r) * (1 - r) / (2 * r);
  }

  function melted(shares, reflectances) {
    var k = sum(shares.map(function (share, n) { return share * absorption(reflectances[n]); })) / sum(shares);
    return 1 + k - Math.sqrt(k * k + 2 * k);
  }

  /* --- the swatch --- */

  function apportioned(shares, seats) {
    var total = sum(shares);
    var exact = shares.map(function (share) { return total ? seats * share / total : 0; });
    var whole = exact.map(Math.floor);
    var order = exact.map(function (_share, n) { return n; }).sort(function (a, b) {
      return whole[a] - exact[a] - (whole[b] - exact[b]) || a - b;
    });
    order.slice(0, seats - sum(whole)).forEach(function (n) { whole[n] += 1; });
    return whole;
  }

  function next(state) {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return state >>> 0;
  }

  function crc32(text) {
    var crc = 0xffffffff;
    new TextEncoder().encode(text).forEach(function (byte) {
      crc ^= byte;
      for (var bit = 0; bit < 8; bit += 1) crc = crc & 1 ? crc >>> 1 ^ 0xedb88320 : crc >>> 1;
    });
    return (crc ^ 0xffffffff) >>> 0;
  }

  function shuffled(items, seed) {
    var state = crc32(seed) || 1, mixed = items.slice();
    for (var n = mixed.length - 1; n > 0; n -= 1) {
      state = next(state);
      var other = state % (n + 1), kept = mixed[n];
      mixed[n] = mixed[other];
      mixed[other] = kept;
    }
    return mixed;
  }

  /* Corners of every chip, row by row, in a square of side 1. */
  function chips(cells) {
    var state = 2463534242, corners = [], found = [];
    for (var row = 0; row <= cells; row += 1) {
      for (var col = 0; col <= cells; col += 1) {
        var x = col / cells, y = row / cells;
        if (row > 0 && row < cells && col > 0 && col < cells) {
          state = next(state);
          x += (state % 1000 / 1000 - 0.5) * 2 / 3 / cells;
          y += (Math.floor(state / 1000) % 1000 / 1000 - 0.5) * 2 / 3 / cells;
        }
        corners.push([Number(x.toFixed(4)), Number(y.toFixed(4))]);
      }
    }
    for (row = 0; row < cells; row += 1) {
      for (col = 0; col < cells; col += 1) {
        var at = row * (cells + 1) + col;
        found.push([corners[at], corners[at + 1], corners[at + cells + 2], corners[at + cells + 1]]);
      }
    }
    return found;
  }

  function tones(cells) {
    var even = [];
    for (var n = 0; n < cells * cells; n += 1) even.push(n % 3);
    return shuffled(even, "tones").map(function (tone) { return tone - 1; });
  }

  function toned(light, tone) {
    return light.map(function (band) { return band + tone * 0.2 * Math.min(band, 1 - band); });
  }

  function shuffledParts(volumes, cells, seed) {
    var parts = [];
    apportioned(volumes, cells * cells).forEach(function (count, n) {
      for (var chip = 0; chip < count; chip += 1) parts.push(n);
    });
    return shuffled(parts, seed);
  }

  /* --- what is melted --- */

  /* Polymers by their share of the whole, the largest first, all colours of one together. */
  function melt(lines) {
    var shares = {}, ids = [];
    lines.forEach(function (line) {
      if (!line.polymer) return;
      if (!has(shares, line.polymer)) { shares[line.polymer] = 0; ids.push(line.polymer); }
      shares[line.polymer] += line.share / 100;
    });
    return ids.map(function (id, n) { return { polymer: id, share: shares[id], n: n }; })
      .sort(function (a, b) { return b.share - a.share || a.n - b.n; })
      .map(function (part) { return { polymer: part.polymer, share: Math.round(part.share * 1e6) / 1e6 }; });
  }

  function density(parts, lines, tables) {
    var heavy = lines.filter(function (line) { return line.consumable && tables.stirred[line.consumable].density; });
    var known = parts.map(function (part) { return [part.share, tables.polymers[part.polymer].density]; });
    if (known.some(function (pair) { return pair[1] === null; })) return null;
    if (known.length === 1 && !heavy.length) return known[0][1];
    known = known.concat(heavy.map(function (line) { return [line.share / 100, tables.stirred[line.consumable].density]; }));
    return sum(known.map(function (pair) { return pair[0]; })) / sum(known.map(function (pair) { return pair[0] / pair[1]; }));
  }

  function linesOf(recipe, tables) {
    var left = 100 - sum(recipe.stirred.map(function (one) { return one.share; }));
    var parts = sum(recipe.flakes.map(function (flake) { return flake.parts; }));
    var flakes = recipe.flakes.map(function (flake) {
      var polymer = tables.polymers[flake.polymer], lot = polymer.colours[flake.colour];
      return {
        polymer: flake.polymer, colour: flake.colour, consumable: "", parts: flake.parts,
        share: left * flake.parts / parts,
        name: lot ? polymer.name + " " + lot.name : polymer.name,
        hex: lot ? lot.hex : null,
        reflectance: lot ? lot.reflectance : null,
        stock: lot ? lot.grams : polymer.grams
      };
    });
    return flakes.concat(recipe.stirred.map(function (one) {
      var record = tables.stirred[one.consumable];
      return { polymer: "", colour: "", consumable: one.consumable, share: one.share, name: record.name, hex: record.hex, stock: record.grams };
    }));
  }

  /* --- what there is to mind --- */

  function caution(key, severity, says) { return { key: key, severity: severity, says: says }; }

  function written(rows) { return rows.map(function (row) { return caution(row[0], row[1], row[2]); }); }

  function refusals(parts, machine, lines, tables) {
    var found = [], bases = {};
    var ids = lines.filter(function (line) { return line.polymer; }).map(function (line) { return line.polymer; });
    ids.forEach(function (id, n) {
      var polymer = tables.polymers[id];
      if (polymer.never && ids.indexOf(id) === n) found.push(caution("never-heated", "stop", polymer.never));
      polymer.bases.forEach(function (base) { bases[base] = true; });
    });
    tables.dangers.forEach(function (danger) {
      if (danger.codes.every(function (code) { return has(bases, code); })) {
        found.push(caution("never-heated", "stop", fill(tables.words.together, danger)));
      }
    });
    return machine ? found.concat(written(machine.sharing)) : found;
  }

  function ofWindow(parts, machine, tables) {
    var windows = parts.map(function (part) { return (tables.windows[machine.process] || {})[part.polymer]; });
    if (!windows[0]) return [caution("no-process", "fix", fill(tables.words.noProcess, { machine: machine.name }))];
    var stopped = windows.filter(function (window) { return window.caution; })[0];
    if (stopped) return written([stopped.caution]);
    var low = Math.max.apply(null, windows.map(function (window) { return window[0]; }));
    var high = Math.min.apply(null, windows.map(function (window) { return window[1]; }));
    if (low > high) return [caution("window", "stop", tables.words.noOverlap)];
    return heights(parts[0].polymer, low, high, machine, tables.words);
  }

  function heights(host, low, high, machine, words) {
    var found = [], setting = machine.settings[host], set = setting ? setting.melt : null, highest = machine.highest;
    var wants = fill(words.span, { low: plain(low), high: show(high, "°C") });
    var reached = set !== null ? set : Math.min(low, highest === null ? high : Math.min(high, highest));
    if (highest !== null && Math.max(low, reached) > highest) {
      found.push(caution("too-cold", "fix", fill(words.tooCold, { machine: machine.name, highest: show(highest, "°C"), wants: wants })));
    }
    var values = { machine: machine.name, wants: wants, high: show(high, "°C"), set: set === null ? "" : show(set, "°C") };
    if (set === null) found.push(caution("no-setting", "note", fill(words.noSetting, values)));
    else if (set > high) found.push(caution("above-window", "fix", fill(words.aboveWindow, values)));
    else if (set < low) found.push(caution("below-window", "note", fill(words.belowWindow, values)));
    return found;
  }

  function ofMixture(parts, tables) {
    var layers = [], unknown = [], host = parts[0].polymer, hostName = tables.polymers[host].name;
    parts.slice(1).forEach(function (part) {
      var pair = (tables.pairs[host] || {})[part.polymer];
      if (!pair) return;
      var values = { minor: tables.polymers[part.polymer].name, host: hostName, share: show(100 * part.share, "%", 2) };
      if (!pair.known) {
        unknown.push(caution("unknown-pair", "ask", fill(tables.words.unknownPair, values)));
      } else if (pair.most === null) {
        layers.push(caution("mixture", "fix", fill(tables.words.layers, values)));
      } else if (100 * part.share > pair.most) {
        values.limit = show(pair.most, "%", 2);
        layers.push(caution("mixture", "fix", fill(tables.words.layersMost, values)));
      }
    });
    return { layers: layers, unknown: unknown };
  }

  function ofMaterial(parts, machine, lines, tables) {
    var found = refusals(parts, machine, lines, tables);
    var mixture = ofMixture(parts, tables);
    if (!found.length) {
      parts.forEach(function (part) { found = found.concat(written(tables.polymers[part.polymer].standing)); });
      if (machine) found = found.concat(ofWindow(parts, machine, tables));
      parts.forEach(function (part) { found = found.concat(written(tables.polymers[part.polymer].wet)); });
      found = found.concat(mixture.layers, written(tables.polymers[parts[0].polymer].shrinkage));
    }
    return isStopped(found) ? found : found.concat(mixture.unknown);
  }

  function ofMould(recipe, parts, machine, tables) {
    var product = tables.products[recipe.product], host = parts[0].polymer;
    if (!product || !machine) return [];
    var loads = (tables.loads[recipe.product] || {})[recipe.machine] || {};
    var found = written((loads[""] || []).concat(loads[host] || []));
    if (!machine.setUp) found.push(caution("not-set-up", "note", fill(tables.words.notSetUp, { machine: machine.name })));
    if (product.hosts.length && !product.hosts.some(function (pair) { return pair[0] === host; })) {
      var names = product.hosts.map(function (pair) { return pair[1]; }).join(", ");
      found.push(caution("other-host", "note", fill(tables.words.otherHost, { product: product.name, hosts: names, host: tables.polymers[host].name })));
    }
    return found;
  }

  function ofAmounts(lines, parts, tables) {
    var found = [], words = tables.words;
    lines.forEach(function (line) {
      if (line.stock === null) found.push(caution("not-counted", "note", fill(words.notCounted, { name: line.name })));
      else if (line.grams - line.stock > 1e-9) {
        found.push(caution("short", "fix", fill(words.short, { lot: line.name, short: show(line.grams - line.stock, "g", 1), stock: show(line.stock, "g", 1) })));
      }
    });
    lines.forEach(function (line) {
      var record = line.consumable ? tables.stirred[line.consumable] : null;
      if (record && record.masterbatch && (line.share < record.low || line.share > record.high)) {
        found.push(caution("letdown", "note", fill(words.letdown, { share: show(line.share, "%", 2), name: record.name, low: plain(record.low), high: show(record.high, "%") })));
      }
    });
    var seen = {};
    lines.forEach(function (line) {
      if (!line.polymer || has(seen, line.polymer)) return;
      seen[line.polymer] = true;
      var polymer = tables.polymers[line.polymer];
      if (polymer.density === null) found.push(caution("no-density", "ask", fill(words.noDensity, { name: polymer.name })));
    });
    return found;
  }

  function worstFirst(cautions) {
    return ORDER.reduce(function (sorted, severity) {
      return sorted.concat(cautions.filter(function (one) { return one.severity === severity; }));
    }, []);
  }

  function isStopped(cautions) { return cautions.some(function (one) { return one.severity === "stop"; }); }

  /* --- how it may look --- */

  function look(recipe, lines, tables) {
    var flakes = lines.filter(function (line) { return line.polymer; });
    var missing = flakes.filter(function (line) { return !line.hex; }).map(function (line) { return line.name; });
    var densities = flakes.map(function (line) { return tables.polymers[line.polymer].density; });
    var dark = { parts: [], light: [], speckle: "", melt: "", shown: "", swatch: [], reflectance: null };
    if (missing.length) return Object.assign(dark, { whyNot: fill(tables.words.noColour, { lots: missing.join(", ") }) });
    if (densities.indexOf(null) >= 0) return Object.assign(dark, { whyNot: tables.words.noShares });
    var volumes = flakes.map(function (line, n) { return line.share / densities[n]; }), total = sum(volumes);
    volumes = volumes.map(function (volume) { return volume / total; });
    var lights = flakes.map(function (line) { return rgbOf(line.hex); });
    var light = speckle(volumes, lights), fused = meltOf(flakes, lights, lines.length > flakes.length, tables);
    var mean = hexOf(light);
    return {
      parts: flakes.map(function (line, n) { return { hex: line.hex, name: line.name, share: volumes[n] }; }),
      light: light, speckle: mean, melt: fused.hex, reflectance: fused.reflectance,
      shown: recipe.mixes === "speckle" ? mean : fused.hex,
      whyNot: recipe.mixes === "melt" ? fused.whyNot : "",
      swatch: shuffledParts(volumes, tables.cells, recipe.seed)
    };
  }

  function meltOf(flakes, lights, tinted, tables) {
    if (tinted) return { hex: "", reflectance: null, whyNot: tables.words.tints };
    var unknown = flakes.filter(function (line) { return line.reflectance === null; });
    if (unknown.length) {
      var lots = unknown.map(function (line) { return line.name; }).join(", ");
      return { hex: "", reflectance: null, whyNot: fill(tables.words.noReflectance, { lots: lots }) };
    }
    var shares = flakes.map(function (line) { return line.share; });
    var bands = flakes.map(function (line, n) {
      var scale = line.reflectance / Math.max(luminance(lights[n]), 1e-6);
      return lights[n].map(function (band) { return Math.min(1, band * scale); });
    });
    var mixed = [0, 1, 2].map(function (band) {
      return melted(shares, bands.map(function (one) { return one[band]; }));
    });
    return { hex: hexOf(mixed), reflectance: melted(shares, flakes.map(function (line) { return line.reflectance; })), whyNot: "" };
  }

  /* --- all of it --- */

  function amounts(recipe, parts, rho, machine, tables) {
    var product = tables.products[recipe.product];
    if (!product) return { count: 0, shots: 0, makes: 0, parts: 0, sprue: 0, purge: 0, total: recipe.grams };
    var shots = Math.ceil(recipe.count * product.parts / product.cavities);
    var setting = machine && machine.setUp && shots && product.machines.indexOf(recipe.machine) >= 0 ? machine.settings[parts[0].polymer] : null;
    var whole = shots * (product.cavities * product.each), sprue = shots * (rho === null ? 0 : product.sprue * rho / 1000);
    var purge = setting ? setting.purge : 0;
    return {
      count: recipe.count, shots: shots, makes: Math.floor(shots * product.cavities / product.parts),
      parts: whole, sprue: sprue, purge: purge, total: whole + sprue + purge
    };
  }

  /* A recipe: flakes ({polymer, colour, parts}), at least one; stirred ({consumable, share}); product, "" to weigh
     out grams; count; machine, "" for none; mixes, "speckle" or "melt"; seed. */
  function work(recipe, tables) {
    var lines = linesOf(recipe, tables), parts = melt(lines), machine = tables.machines[recipe.machine] || null;
    var minded = worstFirst(ofMaterial(parts, machine, lines, tables));
    if (isStopped(minded)) return { refused: true, lines: lines, total: 0, volume: null, density: null, look: null, cautions: minded };
    var rho = density(parts, lines, tables), mass = amounts(recipe, parts, rho, machine, tables);
    lines.forEach(function (line) { line.grams = mass.total * line.share / 100; });
    apportioned(lines.map(function (line) { return line.grams; }), Math.round(10 * mass.total))
      .forEach(function (tenths, n) { lines[n].tenths = tenths; });
    var cautions = worstFirst(minded.concat(ofMould(recipe, parts, machine, tables), ofAmounts(lines, parts, tables)));
    return Object.assign(mass, {
      refused: isStopped(cautions), lines: lines, host: parts[0].polymer, polymers: parts,
      density: rho, volume: rho === null ? null : 1000 * mass.total / rho,
      look: look(recipe, lines, tables), cautions: cautions
    });
  }

  return { work: work, chips: chips, tones: tones, toned: toned, rgbOf: rgbOf, hexOf: hexOf, show: show, number: number, fill: fill, apportioned: apportioned };
})();
