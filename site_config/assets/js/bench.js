/* The blend bench on its page: what is touched becomes a recipe, benchWork works it out, and the page shows it.
   Asks nobody for anything; the last state stays on the device where the browser allows it. */
(function () {
  "use strict";
  var bench = document.getElementById("bench");
  if (!bench || !window.benchWork) return;
  var tables = JSON.parse(document.getElementById("bench-tables").textContent);
  var says = tables.says, work = window.benchWork, KEY = "benchleaf.bench";
  var MOST = 9999, MOST_FLAKES = 12, MOST_STIRRED = 40;
  var CUTS = {};
  var state, result = null;

  function $(id) { return document.getElementById(id); }

  function make(tag, attributes) {
    var element = document.createElement(tag);
    Object.keys(attributes || {}).forEach(function (key) {
      if (key === "text") element.textContent = attributes[key];
      else if (key === "html") element.innerHTML = attributes[key];
      else if (attributes[key] !== false) element.setAttribute(key, attributes[key] === true ? "" : attributes[key]);
    });
    Array.prototype.slice.call(arguments, 2).forEach(function (child) { if (child) element.append(child); });
    return element;
  }

  function write(element, text) { if (element.textContent !== text) element.textContent = text; }

  function fill(key, values) { return work.fill(says[key], values || {}); }

  function grams(tenths) {
    var text = work.number(tenths / 10, 1);
    return (text.indexOf(".") < 0 ? text + ".0" : text) + "\u202fg";
  }

  function mass(g) { return g >= 1000 ? work.show(g / 1000, "kg", 2) : work.show(g, "g", 0); }

  /* --- what is kept --- */

  function fresh() {
    var product = Object.keys(tables.products)[0] || "";
    var begun = { flakes: [], stirred: [], product: product, count: 12, grams: 500, machine: "", mixes: "speckle", seed: "bench" };
    var shown = document.querySelector("[name=bench-polymer]");
    return { recipe: fitted(begun), shown: shown ? shown.value : "", name: "", from: "" };
  }

  function stored() {
    try { return JSON.parse(window.localStorage.getItem(KEY) || "null"); } catch (unreadable) { return null; }
  }

  function keep() {
    try { window.localStorage.setItem(KEY, JSON.stringify(state)); } catch (refused) { /* private window: lasts for this page */ }
  }

  function whole(value, low, high) {
    var number = Math.round(Number(value));
    return isFinite(number) ? Math.min(high, Math.max(low, number)) : low;
  }

  /* Only what the shop still has: tables may be newer than what was kept. */
  function restored(kept) {
    var begun = fresh();
    if (!kept || typeof kept !== "object" || !kept.recipe) return begun;
    var recipe = kept.recipe, r = begun.recipe;
    r.flakes = (Array.isArray(recipe.flakes) ? recipe.flakes : []).filter(function (f) {
      var polymer = f && tables.polymers[f.polymer];
      return polymer && (f.colour in polymer.colours || !Object.keys(polymer.colours).length);
    }).slice(0, MOST_FLAKES).map(function (f) { return { polymer: f.polymer, colour: f.colour, parts: whole(f.parts, 1, MOST) }; });
    r.stirred = (Array.isArray(recipe.stirred) ? recipe.stirred : []).filter(function (s) { return s && tables.stirred[s.consumable]; })
      .map(function (s) { return { consumable: s.consumable, share: Math.min(MOST_STIRRED, Math.max(0.1, Number(s.share) || 1)) }; });
    if (recipe.product === "" || tables.products[recipe.product]) r.product = recipe.product;
    r.count = whole(recipe.count, 1, MOST);
    r.grams = whole(recipe.grams, 1, 1000000);
    r.machine = tables.machines[recipe.machine] ? recipe.machine : "";
    r.seed = typeof recipe.seed === "string" ? recipe.seed : "bench";
    fitted(r);
    if (recipe.mixes === "melt" || recipe.mixes === "speckle") r.mixes = recipe.mixes;
    if (tables.polymers[kept.shown]) begun.shown = kept.shown;
    begun.name = typeof kept.name === "string" ? kept.name.slice(0, 60) : "";
    begun.from = typeof kept.from === "string" ? kept.from : "";
    return begun;
  }

  /* --- what a product allows --- */

  function machinesFor(product) {
    return tables.products[product] ? tables.products[product].machines : Object.keys(tables.machines);
  }

  /* A machine that the mould fits, one that is set up first, and how that machine mixes. */
  function fitted(recipe) {
    var fits = machinesFor(recipe.product);
    if (fits.indexOf(recipe.machine) < 0) {
      recipe.machine = fits.filter(function (id) { return tables.machines[id].setUp; })[0] || fits[0] || "";
    }
    var machine = tables.machines[recipe.machine];
    if (machine) recipe.mixes = machine.process === "press" ? "speckle" : "melt";
    return recipe;
  }

  function opened(blend) {
    var shares = blend.parts.map(function (part) { return Math.max(1, Math.round(part[2] * 100)); });
    var common = shares.reduce(function gcd(a, b) { return b ? gcd(b, a % b) : a; });
    var makes = Object.keys(tables.products).filter(function (id) { return tables.products[id].blends.indexOf(blend.id) >= 0; });
    var recipe = state.recipe;
    if (makes.length && makes.indexOf(recipe.product) < 0) recipe.product = makes[0];
    recipe.machine = blend.machines.filter(function (id) { return machinesFor(recipe.product).indexOf(id) >= 0; })[0] || "";
    recipe.flakes = blend.parts.map(function (part, n) { return { polymer: part[0], colour: part[1], parts: Math.min(MOST, shares[n] / common) }; });
    recipe.stirred = blend.additives.map(function (one) { return { consumable: one[0], share: one[1] }; });
    fitted(recipe);
    recipe.mixes = blend.mixes;
    recipe.seed = blend.id;
    state.name = blend.name;
    state.from = blend.id;
    if (recipe.flakes.length) state.shown = recipe.flakes[0].polymer;
  }

  /* --- changes --- */

  function changed(edit) {
    edit(state.recipe);
    render();
  }

  /* A written recipe that is changed is that recipe no more, nor goes by its name. */
  function edited(edit) {
    if (state.from) state.name = "";
    state.from = "";
    changed(edit);
  }

  function indexOf(polymer, colour) {
    return state.recipe.flakes.findIndex(function (f) { return f.polymer === polymer && f.colour === colour; });
  }

  function toggleFlake(polymer, colour) {
    edited(function (recipe) {
      var at = indexOf(polymer, colour);
      if (at >= 0) recipe.flakes.splice(at, 1);
      else if (recipe.flakes.length < MOST_FLAKES) recipe.flakes.push({ polymer: polymer, colour: colour, parts: 1 });
    });
  }

  function toggleStirred(id) {
    edited(function (recipe) {
      var at = recipe.stirred.findIndex(function (one) { return one.consumable === id; });
      var record = tables.stirred[id];
      if (at >= 0) recipe.stirred.splice(at, 1);
      else recipe.stirred.push({ consumable: id, share: Math.round(record.low + record.high) / 2 });
    });
  }

  /* --- pictures --- */

  /* Chips of a swatch with their tones, as path data: they are the same for every recipe. */
  function cut(side) {
    if (!CUTS[side]) {
      CUTS[side] = {
        tones: work.tones(side),
        paths: work.chips(side).map(function (chip) {
          return "M" + chip.map(function (p) { return (p[0] * 160).toFixed(1) + " " + (p[1] * 160).toFixed(1); }).join("L") + "Z";
        })
      };
    }
    return CUTS[side];
  }

  var INKS = {};
  function inksOf(hex) {
    if (!INKS[hex]) {
      var light = work.rgbOf(hex);
      INKS[hex] = [-1, 0, 1].map(function (tone) { return work.hexOf(work.toned(light, tone)); });
    }
    return INKS[hex];
  }

  /* By ink, the path of all its chips. */
  function chipsOf(parts, seats, side) {
    var chips = cut(side || tables.cells), paths = {};
    var inks = parts.map(function (part) { return inksOf(part.hex); });
    chips.paths.forEach(function (path, n) {
      var ink = inks[seats ? seats[n] : 0][chips.tones[n] + 1];
      paths[ink] = (paths[ink] || "") + path;
    });
    return paths;
  }

  function picture(parts, seats, title, side) {
    var drawn = svg("", title);
    repaint(drawn, chipsOf(parts, seats, side));
    return drawn;
  }

  /* The paths that are there take new chips: a new picture would lay the page out anew. */
  function repaint(drawn, paths) {
    Object.keys(paths).forEach(function (ink, n) {
      var path = drawn.children[n] || drawn.appendChild(document.createElementNS(drawn.namespaceURI, "path"));
      path.setAttribute("d", paths[ink]);
      path.setAttribute("fill", ink);
      path.setAttribute("stroke", ink);
      path.setAttribute("stroke-width", "0.6");
    });
    while (drawn.children.length > Object.keys(paths).length) drawn.lastChild.remove();
  }

  function plain(hex, title) { return svg('<rect width="160" height="160" fill="' + hex + '"/>', title); }

  function svg(body, title) {
    var named = title ? 'role="img"' : 'aria-hidden="true"';
    var made = make("div", { html: '<svg class="swatch" viewBox="0 0 160 160" preserveAspectRatio="xMidYMid slice" ' + named + ">" + body + "</svg>" }).firstChild;
    if (title) made.setAttribute("aria-label", title);
    return made;
  }

  /* --- tiles --- */

  var tilesFor = null;
  function tiles() {
    var polymer = tables.polymers[state.shown], box = $("bench-tiles");
    if (tilesFor !== state.shown) {
      tilesFor = state.shown;
      var colours = Object.keys(polymer.colours);
      box.replaceChildren.apply(box, (colours.length ? colours : [""]).map(function (id) { return flakeTile(state.shown, id); }));
    }
    Array.prototype.forEach.call(box.children, function (tile) {
      tile.setAttribute("aria-pressed", String(indexOf(state.shown, tile.getAttribute("data-colour")) >= 0));
    });
  }

  function flakeTile(id, colour) {
    var polymer = tables.polymers[id], lot = polymer.colours[colour];
    var stock = lot ? lot.grams : polymer.grams;
    var tile = tileOf(lot ? lot.name : polymer.name, lot && lot.hex, stock ? mass(stock) : says.noStock, polymer.never ? says.neverTile : "");
    tile.setAttribute("data-colour", colour);
    tile.addEventListener("click", function () { toggleFlake(id, colour); });
    return tile;
  }

  function tileOf(name, hex, note, warns) {
    var look = hex ? picture([{ hex: hex }], null, "", 6) : make("span", { "class": "bench-unseen" });
    return make("button", { type: "button", "class": "bench-tile" + (warns ? " never" : ""), "aria-pressed": "false" },
      make("span", { "class": "bench-face" }, look),
      make("b", { text: name }), make("small", { text: warns || note }));
  }

  function stirTiles() {
    var ids = Object.keys(tables.stirred), box = $("bench-stirred");
    $("bench-stir").hidden = !ids.length;
    if (!box.children.length) {
      ids.forEach(function (id) {
        var record = tables.stirred[id];
        var tile = tileOf(record.name, record.hex, record.grams === null ? says.notCounted : mass(record.grams), "");
        tile.setAttribute("data-id", id);
        tile.addEventListener("click", function () { toggleStirred(id); });
        box.append(tile);
      });
    }
    Array.prototype.forEach.call(box.children, function (tile) {
      var on = state.recipe.stirred.some(function (one) { return one.consumable === tile.getAttribute("data-id"); });
      tile.setAttribute("aria-pressed", String(on));
    });
  }

  var notes = [], notedFor = null;
  function polymers() {
    var host = (result && result.host) || "";
    if (notedFor === host + " " + state.shown) return;
    notedFor = host + " " + state.shown;
    if (!notes.length) {
      notes = Array.prototype.map.call(document.querySelectorAll("[name=bench-polymer]"), function (input) {
        return { input: input, note: document.querySelector('[data-polymer-note="' + input.value + '"]') };
      });
    }
    notes.forEach(function (one) {
      var input = one.input, note = one.note, pair = host && (tables.pairs[host] || {})[input.value];
      input.checked = input.value === state.shown;
      if (note) write(note, pair && pair.known ? beside(pair, tables.polymers[host].mark) : mass(tables.polymers[input.value].grams));
      if (input.checked && input.closest("details")) input.closest("details").open = true;
    });
  }

  function beside(pair, host) {
    return pair.most === null ? fill("notWith", { host: host }) : fill("littleWith", { host: host, most: work.show(pair.most, "%", 2) });
  }

  /* --- lines --- */

  function stepper(label, value, step, low, high, change, digits) {
    var input = make("input", { type: "number", inputmode: digits ? "decimal" : "numeric", min: low, max: high, step: step, "aria-label": label });
    function set(next) { change(Math.min(high, Math.max(low, Number(next.toFixed(digits || 0))))); }
    var less = make("button", { type: "button", text: "\u2212", "aria-label": fill("less", { what: label }) });
    var more = make("button", { type: "button", text: "+", "aria-label": fill("more", { what: label }) });
    less.addEventListener("click", function () { set((Math.ceil(Number(input.value) / step - 1e-9) - 1) * step); });
    more.addEventListener("click", function () { set((Math.floor(Number(input.value) / step + 1e-9) + 1) * step); });
    input.addEventListener("change", function () { set(isFinite(parseFloat(input.value)) ? parseFloat(input.value) : low); });
    input.addEventListener("focus", function () { input.select(); });
    var box = make("div", { "class": "bench-step" }, less, input, more);
    box.show = function (now) {
      if (input.value !== String(now)) input.value = now;
      less.disabled = now <= low;
      more.disabled = now >= high;
    };
    box.show(value);
    return box;
  }

  function keyOf(line) { return line.consumable ? "+" + line.consumable : line.polymer + "/" + line.colour; }

  var rows = {}, rowKeys = null;
  function lines() {
    var list = $("bench-lines"), found = result ? result.lines : [];
    var keys = found.map(keyOf).join(" ");
    if (keys !== rowKeys) {
      var kept = rows;
      rows = {};
      found.forEach(function (line) { rows[keyOf(line)] = kept[keyOf(line)] || row(line); });
      arrange(list, found.length ? found.map(function (line) { return rows[keyOf(line)]; }) : [make("li", { "class": "bench-none", text: says.none })]);
      rowKeys = keys;
    }
    found.forEach(function (line) {
      var shown = rows[keyOf(line)];
      shown.step.show(line.consumable ? line.share : line.parts);
      write(shown.share, work.show(line.share, "%", 1));
      write(shown.grams, "tenths" in line ? grams(line.tenths) : "\u2013");
      shown.grams.classList.toggle("short", "tenths" in line && line.stock !== null && line.grams - line.stock > 1e-9);
    });
  }

  /* Rows that are there stay where they are: putting one back costs as much as a new one. */
  function arrange(list, wanted) {
    Array.prototype.slice.call(list.children).forEach(function (item) { if (wanted.indexOf(item) < 0) item.remove(); });
    wanted.forEach(function (item, n) { if (list.children[n] !== item) list.insertBefore(item, list.children[n] || null); });
  }

  function row(line) {
    var isStirred = Boolean(line.consumable);
    var step = isStirred ? stirStepper(line) : partStepper(line);
    var away = make("button", { type: "button", "class": "bench-away", "aria-label": fill("away", { what: line.name }), text: "\u00d7" });
    away.addEventListener("click", function () {
      if (isStirred) toggleStirred(line.consumable); else toggleFlake(line.polymer, line.colour);
      $("bench-grams").focus();
    });
    var chip = make("span", { "class": "chip-colour", "aria-hidden": "true", style: line.hex ? "background:" + line.hex : "" });
    var share = make("span", { "class": "bench-share" }), weight = make("b", { "class": "bench-weight" });
    var never = !isStirred && tables.polymers[line.polymer].never;
    var item = make("li", { "class": never ? "never" : "" }, chip, make("span", { "class": "bench-name", text: line.name }), step, share, weight, away);
    item.step = step;
    item.share = share;
    item.grams = weight;
    return item;
  }

  function partStepper(line) {
    return stepper(fill("partsOf", { what: line.name }), line.parts, 1, 1, MOST, function (parts) {
      edited(function (recipe) { recipe.flakes[indexOf(line.polymer, line.colour)].parts = parts; });
    });
  }

  function stirStepper(line) {
    return stepper(fill("shareOf", { what: line.name }), line.share, 0.5, 0.1, MOST_STIRRED, function (share) {
      edited(function (recipe) {
        recipe.stirred.filter(function (one) { return one.consumable === line.consumable; })[0].share = share;
      });
    }, 1);
  }

  function sums() {
    var list = $("bench-sums");
    if (!result || result.refused) return list.replaceChildren();
    var facts = sumRows();
    if (list.children.length === facts.length) {
      return facts.forEach(function (fact, n) {
        write(list.children[n].firstChild, fact[0]);
        write(list.children[n].lastChild, fact[1]);
      });
    }
    list.replaceChildren.apply(list, facts.map(function (fact, n) {
      return make("div", { "class": n ? "" : "total" }, make("dt", { text: fact[0] }), make("dd", { text: fact[1] }));
    }));
  }

  function sumRows() {
    var facts = [[says.inThePan, grams(Math.round(10 * result.total))]];
    if (result.shots) facts.push([fill("partsMass", { n: result.makes, shots: result.shots }), work.show(result.parts, "g", 1)]);
    if (result.sprue) facts.push([says.sprue, work.show(result.sprue, "g", 1)]);
    if (result.purge) facts.push([says.purge, work.show(result.purge, "g", 1)]);
    facts.push([says.volume, result.volume === null ? says.notKnown : work.show(result.volume, "cm\u00b3", result.volume < 100 ? 1 : 0)]);
    return facts;
  }

  /* --- what for --- */

  var counter = null, counterFor = null, mixes = document.querySelectorAll("[name=bench-mixes]");
  function making() {
    var recipe = state.recipe;
    if (counterFor !== recipe.product) {
      counterFor = recipe.product;
      offer(recipe.product);
    }
    if ($("bench-machine").value !== recipe.machine) $("bench-machine").value = recipe.machine;
    counter.show(tables.products[recipe.product] ? recipe.count : recipe.grams);
    Array.prototype.forEach.call(mixes, function (input) { input.checked = input.value === recipe.mixes; });
  }

  /* What a product leaves to choose: its machines, and pieces or grams. */
  function offer(id) {
    var product = tables.products[id], fits = machinesFor(id), select = $("bench-machine");
    $("bench-product").value = id;
    select.replaceChildren.apply(select, fits.map(function (machine) {
      return make("option", { value: machine, text: tables.machines[machine].name + (tables.machines[machine].setUp ? "" : " " + says.later) });
    }));
    select.disabled = fits.length < 2;
    counter = product ? pieces(product) : scoops();
    $("bench-count").replaceChildren(make("p", { text: product ? says.pieces : says.toWeigh }), counter);
  }

  function pieces(product) {
    var shot = Math.max(1, Math.floor(product.cavities / product.parts));
    return stepper(says.pieces, 1, shot, 1, MOST, function (count) { changed(function (recipe) { recipe.count = count; }); });
  }

  function scoops() {
    return stepper(says.toWeigh, 500, 50, 1, 1000000, function (g) { changed(function (recipe) { recipe.grams = g; }); });
  }

  /* --- look and cautions --- */

  var looked = "", flaked = null, flat = null;
  function look() {
    var kind = !result ? "none" : result.refused ? "refused" : [state.recipe.mixes, Boolean(result.look.melt), result.look.parts.length > 0, result.look.whyNot].join();
    if (kind !== looked) {
      looked = kind;
      $("bench-swatch").replaceChildren.apply($("bench-swatch"), looks());
    }
    if (!result || result.refused) return;
    var found = result.look;
    if (flaked) {
      repaint(flaked.firstChild, chipsOf(found.parts, found.swatch));
      write(flaked.lastChild.lastChild, shares(found));
    }
    if (flat) flat.firstChild.firstChild.setAttribute("fill", state.recipe.mixes === "melt" ? found.melt : found.speckle);
  }

  function looks() {
    flaked = flat = null;
    if (!result) return [make("p", { "class": "bench-empty", text: says.noLook })];
    if (result.refused) return [make("p", { "class": "bench-empty refused", text: says.noLookRefused })];
    var found = result.look, melts = state.recipe.mixes === "melt";
    if (found.parts.length) flaked = figure(svg("", says.flakes), melts ? says.before : says.flakes, "");
    if (melts && found.melt) flat = figure(plain(found.melt, says.melted), says.melted, says.byReflectance);
    if (!melts && found.speckle) flat = figure(plain(found.speckle, says.afar), says.afar, says.meanLight);
    var figures = (melts ? [flat, flaked] : [flaked, flat]).filter(Boolean);
    return [make.apply(null, ["div", { "class": "swatches" }].concat(figures)),
      found.whyNot ? make("p", { text: found.whyNot }) : make("span"), make("p", { "class": "small soft", text: tables.caution })];
  }

  function shares(found) {
    return fill("byVolume", { shares: found.parts.map(function (part) { return work.show(100 * part.share, "%", 0) + " " + part.name; }).join(", ") });
  }

  function figure(drawn, title, words) {
    return make("figure", {}, drawn, make("figcaption", {}, make("b", { text: title }), make("span", { text: words })));
  }

  var cautioned = null;
  function cautions() {
    var box = $("bench-cautions"), now = JSON.stringify(result && [result.refused, result.cautions]);
    if (now === cautioned) return;
    cautioned = now;
    if (!result) return box.replaceChildren(make("p", { "class": "soft", text: says.nothingYet }));
    var found = result.cautions.map(cautionOf);
    if (result.refused) found = [make("div", { "class": "refusal" }, make("p", { "class": "big", text: says.refused }))].concat(found);
    box.replaceChildren.apply(box, found.length ? found : [make("p", { text: says.nothingToMind })]);
  }

  function cautionOf(caution) {
    return make("article", { "class": "finding " + caution.severity, "data-caution": caution.key },
      make("div", { html: tables.severities[caution.severity] }), make("p", { text: caution.says }));
  }

  /* --- to keep --- */

  function name() { return state.name || named(); }

  function named() {
    return state.recipe.flakes.map(function (f) {
      var polymer = tables.polymers[f.polymer], lot = polymer.colours[f.colour];
      return (lot ? lot.name : polymer.name) + " " + f.parts;
    }).join(" ").slice(0, 60) || says.unnamed;
  }

  function productWords() {
    var recipe = state.recipe, product = tables.products[recipe.product], machine = tables.machines[recipe.machine];
    var what = product ? recipe.count + " \u00d7 " + product.name : work.show(recipe.grams, "g");
    return machine ? what + ", " + machine.name : what;
  }

  function yaml() {
    var found = result.lines, hundredths = work.apportioned(found.map(function (line) { return line.share; }), 10000);
    function share(n) { return work.number(hundredths[n] / 100, 2) + " %"; }
    var parts = [], extra = [];
    found.forEach(function (line, n) {
      if (line.consumable) extra.push("{consumable: " + line.consumable + ", share: " + share(n) + "}");
      else parts.push("{polymer: " + line.polymer + (line.colour ? ", colour: " + line.colour : "") + ", share: " + share(n) + "}");
    });
    return idOf(name()) + ": {name: " + JSON.stringify(name()) + ", parts: [" + parts.join(", ") + "]" +
      (extra.length ? ", additives: [" + extra.join(", ") + "]" : "") +
      ", mixes: " + state.recipe.mixes + ", machines: [" + (state.recipe.machine || "") + "]}";
  }

  /* An id the shop has not taken yet, of the letters an id may have. */
  function idOf(words) {
    var bare = words.normalize("NFKD").replace(/[\u0300-\u036f]/g, "").toLowerCase();
    var plain = bare.replace(/[^a-z0-9]+/g, "-").replace(/^[-0-9]+|-+$/g, "") || "recipe";
    if (/^(y|yes|n|no|on|off|true|false|null)$/.test(plain)) plain += "-blend"; // which YAML takes for something else
    var id = plain, n = 2;
    while (tables.taken.indexOf(id) >= 0) { id = plain + "-" + n; n += 1; }
    return id;
  }

  function asText() {
    var text = [name(), productWords(), ""].concat(result.lines.map(function (line) {
      return grams(line.tenths) + "  " + line.name + " (" + work.show(line.share, "%", 1) + ")";
    }), [""], sumRows().map(function (fact) { return fact[0] + ": " + fact[1]; }));
    if (result.cautions.length) text = text.concat([""], result.cautions.map(function (one) { return says[one.severity] + ": " + one.says; }));
    return text.concat(["", says.forShop, yaml(), "", tables.shop + ", " + tables.asOf, ""]).join("\n");
  }

  function asData() {
    return JSON.stringify({
      name: name(), shop: tables.shop, as_of: tables.asOf, recipe: state.recipe,
      grams: result.lines.map(function (line) { return { polymer: line.polymer, colour: line.colour, consumable: line.consumable, share_percent: line.share, grams: line.tenths / 10 }; }),
      total_g: Math.round(10 * result.total) / 10, volume_cm3: result.volume,
      cautions: result.cautions, blends_yml: yaml()
    }, null, 2) + "\n";
  }

  function give(text, ending, type) {
    var link = make("a", { href: URL.createObjectURL(new Blob([text], { type: type })), download: idOf(name()) + ending });
    document.body.append(link);
    link.click();
    link.remove();
    window.setTimeout(function () { URL.revokeObjectURL(link.href); }, 1000);
  }

  function card() {
    var box = $("bench-card");
    if (!result || result.refused) return box.replaceChildren();
    var found = result.look, drawn = null;
    if (state.recipe.mixes === "melt" && found.melt) drawn = figure(plain(found.melt), says.melted, says.preview);
    else if (found.parts.length) drawn = figure(picture(found.parts, found.swatch), state.recipe.mixes === "melt" ? says.before : says.flakes, says.preview);
    var table = make("table", {}, make("tbody"));
    result.lines.forEach(function (line) {
      table.firstChild.append(make("tr", {}, make("td", {}, make("span", { "class": "bench-box", "aria-hidden": "true" })), make("td", { text: line.name }), make("td", { "class": "num", text: work.show(line.share, "%", 1) }), make("td", { "class": "num weight", text: grams(line.tenths) })));
    });
    table.firstChild.append(make("tr", { "class": "sum" }, make("td"), make("td", { text: says.inThePan }), make("td"), make("td", { "class": "num weight", text: grams(Math.round(10 * result.total)) })));
    box.replaceChildren(
      make("header", {}, make("div", {}, make("p", { "class": "small soft", text: says.cardTitle }), make("h2", { text: name() }), make("p", { text: productWords() })), drawn || make("span")),
      table,
      make.apply(null, ["ul", { "class": "bench-card-mind" }].concat(result.cautions.map(function (one) { return make("li", {}, make("b", { text: says[one.severity] + ": " }), one.says); }))),
      make("p", { "class": "small", text: setting() }),
      make("dl", {}, blank(says.batch), blank(says.weighed), blank(says.chip)),
      make("p", { "class": "small soft", text: tables.shop + ", " + tables.asOf + ". " + says.cardCaution }));
  }

  function setting() {
    var machine = tables.machines[state.recipe.machine], set = machine && machine.settings[result.host];
    if (!machine) return "";
    return set && set.melt !== null ? fill("setting", { machine: machine.name, melt: work.show(set.melt, "\u00b0C") }) : fill("noSetting", { machine: machine.name });
  }

  function blank(words) { return make("div", {}, make("dt", { text: words }), make("dd")); }

  function keeping() {
    var can = Boolean(result && !result.refused);
    if ($("bench-print").disabled === can) {
      ["bench-print", "bench-text", "bench-data", "bench-copy"].forEach(function (id) { $(id).disabled = !can; });
    }
    $("bench-name").placeholder = named();
    if ($("bench-name").value !== state.name) $("bench-name").value = state.name;
    $("bench-recipe").value = state.from;
  }

  var footed = "";
  function foot() {
    var worst = result && result.cautions[0];
    $("bench-foot").hidden = !result;
    if (!result) return;
    write($("bench-foot-says"), result.refused ? says.refused : fill("footTotal", { total: mass(result.total), n: result.lines.length }));
    $("bench-foot-mind").hidden = !worst;
    if (!worst || footed === worst.severity) return;
    footed = worst.severity;
    $("bench-foot-mind").innerHTML = tables.severities[footed];
  }

  function tell() {
    write($("bench-status"), !result ? says.none : result.refused
      ? says.refused + " " + result.cautions[0].says
      : fill("told", { total: work.show(result.total, "g", 0), n: result.cautions.length }));
  }

  /* --- all of it --- */

  function render() {
    result = state.recipe.flakes.length ? work.work(state.recipe, tables) : null;
    [lines, sums, cautions, foot, polymers, tiles, stirTiles, making, look, keeping].forEach(function (part) { part(); });
    after();
  }

  /* What nobody waits for: it follows when the finger rests, or at once when it is wanted. */
  var resting = 0;
  function after() {
    window.clearTimeout(resting);
    resting = window.setTimeout(settle, 250);
  }

  function settle() {
    window.clearTimeout(resting);
    keep();
    card();
    tell();
    $("bench-yaml").value = result && !result.refused ? yaml() : "";
  }

  function listen() {
    Array.prototype.forEach.call(document.querySelectorAll("[name=bench-polymer]"), function (input) {
      input.addEventListener("change", function () { state.shown = input.value; changed(function () {}); });
    });
    Array.prototype.forEach.call(document.querySelectorAll("[name=bench-mixes]"), function (input) {
      input.addEventListener("change", function () { changed(function (recipe) { recipe.mixes = input.value; }); });
    });
    $("bench-product").addEventListener("change", function (event) {
      changed(function (recipe) { recipe.product = event.target.value; fitted(recipe); });
    });
    $("bench-machine").addEventListener("change", function (event) {
      changed(function (recipe) { recipe.machine = event.target.value; fitted(recipe); });
    });
    $("bench-recipe").addEventListener("change", function (event) {
      var blend = tables.blends.filter(function (one) { return one.id === event.target.value; })[0];
      changed(function () { if (blend) opened(blend); else state.from = ""; });
    });
    $("bench-again").addEventListener("click", function () { state = fresh(); render(); });
    $("bench-name").addEventListener("input", function (event) { state.name = event.target.value.trim(); keeping(); after(); });
    $("bench-print").addEventListener("click", function () { settle(); window.print(); });
    ["beforeprint", "pagehide"].forEach(function (leaving) { window.addEventListener(leaving, settle); });
    $("bench-text").addEventListener("click", function () { give(asText(), ".txt", "text/plain"); });
    $("bench-data").addEventListener("click", function () { give(asData(), ".json", "application/json"); });
    $("bench-copy").addEventListener("click", copy);
  }

  /* A recipe's own page leads here with its id; what was on the bench gives way to it once. */
  function openAsked() {
    var asked = /[?&]recipe=([a-z0-9-]+)/.exec(window.location.search);
    var blend = asked && tables.blends.filter(function (one) { return one.id === asked[1]; })[0];
    if (!blend) return;
    opened(blend);
    try { window.history.replaceState(null, "", window.location.pathname); } catch (refused) { /* from a folder: stays */ }
  }

  function copy() {
    var area = $("bench-yaml"), button = $("bench-copy");
    settle();
    function done() { button.textContent = says.copied; window.setTimeout(function () { button.textContent = says.copy; }, 2000); }
    area.select();
    if (navigator.clipboard) navigator.clipboard.writeText(area.value).then(done, function () { if (document.execCommand("copy")) done(); });
    else if (document.execCommand("copy")) done();
  }

  tables.blends.forEach(function (blend) { $("bench-recipe").append(make("option", { value: blend.id, text: blend.name })); });
  state = restored(stored());
  openAsked();
  bench.hidden = false;
  $("bench-without").hidden = true;
  document.documentElement.classList.add("bench-runs");
  listen();
  render();
})();
