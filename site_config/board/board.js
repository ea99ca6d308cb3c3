/* The board on a tablet: draws what time.js reckons, and keeps it on the device.

   Everything is built once and then only written over, so that a slow tap in a glove never lands on
   a button that was just replaced. No string a reader sees stands here: they come with the page. */
(function () {
  "use strict";
  const plan = JSON.parse(document.getElementById("plan").textContent);
  const WORDS = plan.words;
  const clockwork = boardTime(plan);
  const KEY = "benchleaf.board." + plan.id;
  const MINUTE = 60000;
  const stations = plan.activities;

  // --- small helpers ----------------------------------------------------------------------------

  const $ = (id) => document.getElementById(id);
  const two = (n) => (n < 10 ? "0" : "") + n;

  function say(key, values) {
    return WORDS[key].replace(/\{(\w+)\}/g, (all, name) => (values && name in values ? values[name] : all));
  }
  function write(node, text) {
    if (node.textContent !== text) node.textContent = text;
  }
  function mark(node, name, on) {
    if (node.classList.contains(name) !== Boolean(on)) node.classList.toggle(name, Boolean(on));
  }
  function show(node, on) {
    if (node.hidden === Boolean(on)) node.hidden = !on;
  }
  function able(node, on) {
    if (node.disabled === Boolean(on)) node.disabled = !on;
  }
  function put(node, name, value) {
    if (node.getAttribute(name) !== value) node.setAttribute(name, value);
  }
  function make(tag, classes, ...inside) {
    const node = document.createElement(tag);
    if (classes) node.className = classes;
    node.append(...inside);
    return node;
  }
  function symbol(id) {
    return $(id).content.firstElementChild.cloneNode(true);
  }
  function button(classes, words, tap) {
    const node = make("button", classes, ...[].concat(words));
    node.type = "button";
    node.addEventListener("click", tap);
    return node;
  }
  function balloon(number) {
    return make("span", "balloon", String(number));
  }

  function clock(at) {
    const d = new Date(at);
    return two(d.getHours()) + ":" + two(d.getMinutes());
  }
  /** Left time counts down and never shows 00:00 early: it is rounded up to the second. */
  function left(ms) {
    const s = Math.max(0, Math.ceil(ms / 1000));
    const h = Math.floor(s / 3600), m = Math.floor((s % 3600) / 60);
    return (h ? h + ":" + two(m) : two(m)) + ":" + two(s % 60);
  }
  function spent(ms) {
    const s = Math.max(0, Math.floor(ms / 1000));
    return Math.floor(s / 60) + ":" + two(s % 60);
  }
  function minutes(ms) {
    return Math.max(1, Math.round(Math.abs(ms) / MINUTE));
  }
  /** Midnight from noon, so that a night on which clocks change does not move the morning. */
  function midnightOf(at) {
    const d = new Date(at);
    return new Date(d.getFullYear(), d.getMonth(), d.getDate(), 12).getTime() - 12 * 60 * MINUTE;
  }

  // --- keeping ----------------------------------------------------------------------------------

  /* Two places are written in turn, each with a count: if power fails in the middle of one, the
     other still holds the state of a moment before. */
  let store = null;
  let turn = 0;
  try {
    store = window.localStorage;
    store.setItem(KEY + ".try", "1");
    store.removeItem(KEY + ".try");
  } catch (refused) { store = null; }

  function readPlace(place) {
    try {
      const kept = JSON.parse(store.getItem(KEY + place) || "null");
      return kept && Number.isInteger(kept.turn) && kept.state && kept.state.v === 1 ? kept : null;
    } catch (torn) { return null; }
  }
  function readState() {
    if (!store) return null;
    const kept = [".a", ".b"].map(readPlace).filter(Boolean).sort((a, b) => b.turn - a.turn)[0];
    if (!kept) return null;
    turn = kept.turn;
    return kept.state;
  }
  function keep() {
    if (!store) return;
    turn += 1;
    try {
      store.setItem(KEY + (turn % 2 ? ".a" : ".b"), JSON.stringify({ turn, state }));
    } catch (full) { store = null; tellStore(); }
  }
  function forget() {
    if (store) [".a", ".b"].forEach((place) => store.removeItem(KEY + place));
  }
  function tellStore() {
    show($("unkept"), !store);
  }

  // --- state ------------------------------------------------------------------------------------

  const now = () => Date.now();
  const anew = () => clockwork.fresh(now(), midnightOf(now()));
  const kept = readState();
  let state = kept || anew();
  let lastKept = 0;
  let asking = Boolean(kept) && (kept.hash !== plan.hash || isOld(kept));
  let wentOn = false;

  /** A session of another day, six hours past its end: nobody means to go on with it unasked. */
  function isOld(old) {
    const end = old.midnight + plan.end * MINUTE + old.shift;
    return old.phase !== "before" && midnightOf(now()) !== old.midnight && now() > end + 6 * 60 * MINUTE;
  }
  function tick() {
    if (!asking && !wentOn && isOld(state)) { asking = true; draw(); }
    if (!asking) send({ type: "tick" });
  }

  function send(event) {
    const before = state;
    state = clockwork.advance(state, { midnight: midnightOf(now()), ...event }, now());
    if (event.type !== "tick" || before.setBack.length !== state.setBack.length || now() - lastKept > 5000 || now() < lastKept) {
      lastKept = now();
      keep();
    }
    draw();
  }

  // --- screens ----------------------------------------------------------------------------------

  const SCREENS = ["before", "running", "emergency", "count", "over", "ask"];
  function screen() {
    if (asking) return "ask";
    const wanted = window.location.hash.slice(1).split("/")[0];
    if (["emergency", "count", "over"].includes(wanted)) return wanted;
    return { before: "before", running: "running", over: "over" }[state.phase];
  }
  function go(name) {
    if (window.location.hash.slice(1) !== name) window.location.hash = name;
    draw();
  }
  let shown = "";
  function changeScreen(name) {
    if (shown === name) return;
    shown = name;
    SCREENS.forEach((s) => show($("screen-" + s), s === name));
    mark(document.body, "calm", name === "over" || name === "ask");
    if (name === "emergency") openSteps(null);
    if (name === "count") { typed = ""; drawCount(); }
    if (name === "over") { $("notes").value = state.notes; }
    const focus = $("screen-" + name).querySelector("[data-first]");
    if (focus && settled) focus.focus({ preventScroll: true });
  }

  // --- head ---------------------------------------------------------------------------------------

  function drawHead(v) {
    write($("clock"), clock(v.now));
    const late = Math.round(v.late / MINUTE);
    let line = say("ends", { time: clock(v.finish) });
    if (v.rehearsal) line = say("rehearsal", { time: clock(v.finish) });
    else if (late > 0) line = say("ends_late", { time: clock(v.finish), n: late });
    else if (late < 0) line = say("ends_early", { time: clock(v.finish), n: -late });
    write($("ends"), state.phase === "over" ? say("ended") : line);
    const here = plan.people.expected;
    write($("counted"), v.count ? say("counted", { n: v.count.n, all: here }) : say("not_counted"));
    write($("counted-at"), v.count ? say("counted_at", { time: clock(v.count.at) }) : say("expected", { all: here }));
    mark($("head-count"), "short", v.count && v.count.n !== here);
    put($("sound"), "aria-pressed", String(state.sound));
    write($("sound"), say(state.sound ? "sound_on" : "sound_off"));
  }

  // --- before ---------------------------------------------------------------------------------------

  let page = 0;
  const ticks = plan.checks.map((check) => {
    const box = make("span", "box");
    const node = button("tick", [box, make("span", "", check.says, make("small", "", check.when))], () => {
      send({ type: "check", id: check.id, on: !state.ticked[check.id] });
    });
    node.setAttribute("role", "checkbox");
    $("ticks").append(node);
    return { check, node };
  });
  let perPage = 0;
  function pages() {
    const room = $("ticks").clientHeight, row = 94;
    const columns = getComputedStyle($("ticks")).gridTemplateColumns.split(" ").length || 1;
    perPage = Math.max(columns, Math.floor((room + 8) / row) * columns);
    return Math.max(1, Math.ceil(ticks.length / perPage));
  }
  function drawBefore(v) {
    const all = pages();
    page = Math.min(page, all - 1);
    ticks.forEach(({ check, node }, i) => {
      put(node, "aria-checked", String(Boolean(state.ticked[check.id])));
      show(node, Math.floor(i / perPage) === page);
    });
    $("more").style.visibility = all > 1 ? "visible" : "hidden"; // its room stays, or the count of rows would swing
    write($("more"), say("more_checks", { n: page + 1, all }));
    const open = plan.checks.filter((c) => !state.ticked[c.id]).length;
    write($("open-checks"), open ? say("checks_open", { n: open, all: plan.checks.length }) : say("checks_done", { all: plan.checks.length }));
    const until = v.opens - v.now;
    write($("opens"), Math.abs(until) > 12 * 60 * MINUTE || until <= 0 ? clock(v.opens) : left(until));
    write($("opens-word"), until > 0 && until <= 12 * 60 * MINUTE ? say("groups_start_in", { time: clock(v.opens) }) : say("groups_start_at"));
    able($("start"), v.mayStart);
    write($("start-why"), startWords(v, until));
  }
  function startWords(v, until) {
    if (v.openChecks.length) return say("start_checks", { n: v.openChecks.length });
    if (!v.count) return say("start_count");
    if (Math.abs(until) > 90 * MINUTE) return say("start_rehearsal");
    if (until < -MINUTE) return say("start_late", { n: minutes(until) });
    if (until > MINUTE) return say("start_early", { n: minutes(until) });
    return say("start_now");
  }

  // --- groups -----------------------------------------------------------------------------------

  const ICONS = { hold: "icon-hold", go: "icon-go", more: "icon-more" };
  const rows = plan.groups.map((group) => {
    const title = make("span", "num", String(group.n));
    const nowIs = make("p", "now"), next = make("p", "next");
    const time = make("b", "time"), note = make("small");
    time.setAttribute("role", "timer");
    time.setAttribute("aria-live", "off");
    const holdWord = make("span"), holdIcon = make("span", "icon", symbol(ICONS.hold)), goIcon = make("span", "icon", symbol(ICONS.go));
    const hold = button("hold", [holdIcon, goIcon, holdWord], () => {
      send({ type: state.held[group.n] ? "resume" : "hold", group: group.n });
    });
    const more = button("more", [make("span", "icon", symbol(ICONS.more)), make("span", "", say("more_minutes"))], () => {
      send({ type: "extend", group: group.n, minutes: 2 });
    });
    more.setAttribute("aria-label", say("extend_group", { n: group.n }));
    const row = make("section", "group", make("div", "id", make("small", "", say("group_short")), title), make("div", "what", nowIs, next), make("div", "left", time, note), hold, more);
    row.setAttribute("aria-label", say("group", { n: group.n }));
    $("groups").append(row);
    return { group, row, nowIs, next, time, note, hold, more, holdWord, holdIcon, goIcon };
  });
  document.documentElement.style.setProperty("--groups", String(plan.groups.length));

  function placeOf(slot) {
    const activity = stations[slot.activity];
    return activity.number ? say("at_station", { n: activity.number }) : "";
  }
  /** Words with a station's balloon after them, written anew only when they change. */
  function placed(node, key, before, bold, number) {
    if (node.dataset.key === key) return;
    node.dataset.key = key;
    node.textContent = "";
    node.append(before, ...(bold ? [make("b", "", bold)] : []), ...(number ? [" ", balloon(number)] : []));
  }
  function drawGroup(r, g, v) {
    const moving = g.slot === null && g.next !== null;
    const at = g.slot || g.next;
    const here = at ? stations[at.activity] : null;
    placed(r.nowIs, at ? at.id + g.state : "tidy", at ? (moving ? say("go_to", { what: here.name }) : here.name) : say("tidy"), "", here ? here.number : 0);
    if (moving) placed(r.next, "at" + g.nextAt, say("starts_at", { time: clock(g.nextAt) }), "", 0);
    else if (g.next) placed(r.next, g.next.id + "at" + g.nextAt, say("next") + " ", clock(g.nextAt) + " " + stations[g.next.activity].name, stations[g.next.activity].number);
    else placed(r.next, "last", g.slot ? say("next") + " " : "", g.slot ? say("tidy") : "", 0);
    write(r.time, at ? left(g.left) : left(Math.max(0, v.finish - v.now)));
    let note = at ? say(moving ? "until_start" : "until", { time: clock(g.until) }) : say("until", { time: clock(v.finish) });
    if (g.state === "soon" && g.next) note = say("get_ready");
    else if (g.moved > 0 && !moving) note = say(g.longer ? "longer" : "later", { n: g.moved, time: clock(g.until) });
    if (g.held !== null) note = say("held_for", { time: spent(g.held) });
    write(r.note, note);
    mark(r.row, "soon", g.state === "soon" || (g.state === "moving" && g.left <= 2 * MINUTE));
    mark(r.row, "held", g.held !== null);
    show(r.holdIcon, g.held === null);
    show(r.goIcon, g.held !== null);
    write(r.holdWord, say(g.held !== null ? "resume" : "hold"));
    put(r.hold, "aria-label", say(g.held !== null ? "resume_group" : "hold_group", { n: g.group }));
    able(r.hold, Boolean(at));
    able(r.more, Boolean(at));
  }

  // --- machines -----------------------------------------------------------------------------------

  function machineCard(machine) {
    const state_ = make("p", "state"), note = make("p", "note");
    const fill = make("i"), bar = make("div", "bar", fill), ends = make("div", "ends", make("span", "", "0"), make("span", "", machine.hold === null ? "" : say("min", { n: machine.hold })));
    const onButton = button("act", say("heat_on"), () => send({ type: "heat-on", machine: machine.id }));
    const purge = button("act", machine.purge ? say("purged_kg", { g: machine.purge }) : say("purged"), () => send({ type: "purge", machine: machine.id }));
    const off = button("act", say("heat_off"), () => send({ type: "heat-off", machine: machine.id }));
    for (const [node, key] of [[onButton, "on_of"], [purge, "purged_of"], [off, "off_of"]]) node.setAttribute("aria-label", say(key, { machine: machine.name }));
    const sign = make("span", "sign", symbol("sign-hot"));
    const card = make("section", "machine",
      make("h2", "", balloon(machine.number), make("span", "", machine.name), make("span", "t", machine.temperature)),
      make("div", "line", sign, state_), note, bar, ends, make("div", "acts", onButton, purge, off));
    return { machine, card, state: state_, note, fill, bar, ends, on: onButton, purge, off, sign };
  }
  const cards = { before: plan.machines.map(machineCard), running: plan.machines.map(machineCard) };
  cards.before.forEach((c) => $("heat-before").append(c.card));
  cards.running.forEach((c) => $("heat").insertBefore(c.card, $("then")));
  mark(document.body, "many", plan.machines.length > 2);
  mark(document.body, "crowded", plan.groups.length > 6);

  function machineWords(m, machine) {
    const hold = m.most === null ? say("no_limit") : say("hot_hold", { used: spent(m.used || 0), most: machine.hold, polymer: machine.polymer });
    switch (m.state) {
      case "cold": return [say("m_cold", { time: clock(m.switchOn) }), m.open.length ? say("m_checks", { n: m.open.length }) : say("m_ready_to_heat")];
      case "due-on": return [say("m_due_on"), m.open.length ? say("m_checks", { n: m.open.length }) : say("m_planned_on", { time: clock(m.switchOn) })];
      case "warming": return [say("m_warming", { time: left(m.left) }), say("m_ready_at", { time: clock(m.ready) })];
      case "in-use": return [say("m_in_use"), m.most === null ? say("no_limit") : say("m_limit", { most: machine.hold, polymer: machine.polymer })];
      case "waiting": return [say("m_waiting"), hold];
      case "purge": return [m.left > 0 ? say("m_purge", { time: left(m.left) }) : say("m_purge_now"), hold + (machine.wear ? " " + machine.wear : "")];
      case "due-off": return [say("m_due_off"), say("m_planned_off", { time: clock(m.off) })];
      default: return [say("m_off"), say("m_cold_by", { time: clock(m.cold) })];
    }
  }
  function drawMachine(c, m) {
    const [line, note] = machineWords(m, c.machine);
    write(c.state, line);
    write(c.note, note);
    mark(c.card, "purge", m.state === "purge");
    mark(c.card, "due", m.state === "due-on" || m.state === "due-off");
    show(c.sign, m.on !== null && m.state !== "warming");
    const timed = m.state === "waiting" || m.state === "purge";
    show(c.bar, timed && m.most !== null);
    show(c.ends, timed && m.most !== null);
    if (timed && m.most) c.fill.style.width = Math.min(100, (100 * m.used) / m.most).toFixed(1) + "%";
    show(c.on, m.on === null);
    able(c.on, m.mayHeat);
    show(c.purge, m.on !== null && m.state !== "off" && m.state !== "warming");
    show(c.off, m.on !== null && m.state !== "off");
  }

  // --- foot ---------------------------------------------------------------------------------------

  function thenWords(c) {
    if (c.what === "on" || c.what === "off") return say("then_" + c.what, { machine: plan.machines.find((m) => m.id === c.machine).name });
    return say(c.what === "tidy" ? "then_tidy" : "then_end");
  }
  const thenRows = [0, 1, 2, 3].map(() => {
    const time = make("b"), words = make("span");
    const row = make("li", "", time, words);
    $("then-list").append(row);
    return { row, time, words };
  });
  function drawThen(v) {
    const coming = v.then.filter((c) => c.at > v.now);
    thenRows.forEach((r, i) => {
      show(r.row, i < coming.length);
      if (i < coming.length) { write(r.time, clock(coming[i].at)); write(r.words, thenWords(coming[i])); }
    });
  }

  function warningWords(w) {
    const name = w.machine ? plan.machines.find((m) => m.id === w.machine) : null;
    if (w.kind === "end") return say("w_end", { n: minutes(w.by), time: clock(w.at), limit: clock(w.limit) });
    if (w.kind === "hold") return say("w_hold", { machine: name.name, polymer: name.polymer, n: minutes(w.until - w.from), most: name.hold, from: clock(w.from), by: clock(w.at) });
    if (w.kind === "ready") return say("w_ready", { machine: name.name, time: clock(w.until), use: clock(w.at) });
    return say("w_clock", { n: minutes(w.by), time: clock(w.at) });
  }
  function quietWords(v) {
    const holds = v.groups.filter((g) => g.breaks).sort((a, b) => a.breaks.at - b.breaks.at)[0];
    if (holds) {
      const what = holds.breaks.kind === "end" ? say("breaks_end") : say("breaks_" + holds.breaks.kind, { machine: plan.machines.find((m) => m.id === holds.breaks.machine).name });
      return say("if_held", { n: holds.group, time: clock(holds.breaks.at), what });
    }
    const next = v.groups.filter((g) => g.slot && g.state !== "held" && g.next).sort((a, b) => a.until - b.until)[0];
    if (next) return say("next_change", { n: next.group, time: clock(next.until), what: stations[next.next.activity].name });
    return state.phase === "running" ? say("all_done") : "";
  }
  let warned = "";
  function drawFoot(v) {
    const open = v.warnings.filter((w) => !w.seen);
    const first = open[0] || null;
    warned = first ? first.key : "";
    mark($("message"), "warn", first);
    write($("warn-word"), first ? say(open.length > 1 ? "warning_of" : "warning", { all: open.length }) : "");
    const known = v.warnings.length ? say("known", { n: v.warnings.length, what: warningWords(v.warnings[0]) }) : "";
    write($("message-text"), first ? warningWords(first) : known || quietWords(v));
    show($("seen"), Boolean(first));
    show($("take-clock"), Boolean(first) && first.kind === "clock");
    show($("undo"), Boolean(v.undo) && !first);
    if (v.undo) write($("undo"), undoWords(v.undo));
    write($("hold-all"), say(v.allHeld ? "resume_all" : "hold_all"));
  }
  function undoWords(event) {
    const all = event.type.endsWith("-all");
    return say(event.type.startsWith("extend") ? (all ? "undo_extend_all" : "undo_extend") : all ? "undo_hold_all" : "undo_hold", { n: event.group, m: event.minutes });
  }

  // --- emergency ------------------------------------------------------------------------------------

  const stepButtons = plan.emergency.procedures.map((p, i) => {
    const node = button("way", p.name, () => openSteps(i));
    $("bad-days").append(node);
    return node;
  });
  let openProcedure = null;
  function openSteps(index) {
    openProcedure = index;
    const p = index === null ? null : plan.emergency.procedures[index];
    show($("stops"), !p);
    show($("steps"), Boolean(p));
    stepButtons.forEach((node, i) => put(node, "aria-pressed", String(i === index)));
    if (!p) return;
    write($("steps-title"), p.name);
    const list = $("steps-list");
    list.textContent = "";
    p.steps.forEach((s) => {
      const node = make("li", s.until ? "hold" : "", make("b", "", s.do), make("span", "", s.key));
      if (s.until) node.append(make("em", "", say("wait_until", { what: s.until })));
      list.append(node);
    });
    mark(list, "long", p.steps.length > 5);
    $("steps-title").focus({ preventScroll: true });
  }

  // --- count ----------------------------------------------------------------------------------------

  let typed = "";
  function drawCount() {
    const n = typed === "" ? null : Number(typed), all = plan.people.expected;
    write($("typed"), typed === "" ? "–" : typed);
    write($("differs"), n === null ? say("count_ask", { all }) : n === all ? say("count_right") : n < all ? say("count_short", { n: all - n }) : say("count_over", { n: n - all, most: plan.people.most }));
    mark($("differs"), "short", n !== null && n !== all);
    able($("count-save"), n !== null);
  }
  function key(digit) {
    typed = digit === "back" ? typed.slice(0, -1) : (typed + digit).replace(/^0+(?=\d)/, "").slice(0, 3);
    drawCount();
  }
  document.querySelectorAll("[data-digit]").forEach((node) => node.addEventListener("click", () => key(node.dataset.digit)));
  function saveCount(n) {
    send({ type: "count", n });
    leave();
  }

  // --- end ------------------------------------------------------------------------------------------

  function logWords(entry) {
    const known = plan.machines.find((m) => m.id === entry.machine);
    const name = known ? known.name : entry.machine || "";
    const key = "log_" + entry.what.replace(/-/g, "_");
    if (!(key in WORDS)) return "";
    return say(key, { n: entry.n, group: entry.group, m: entry.minutes, machine: name, by: entry.by ? minutes(entry.by) : 0 });
  }
  function report() {
    const v = clockwork.view(state, now());
    const date = new Date(state.begun);
    const lines = [plan.name, plan.shop, date.getFullYear() + "-" + two(date.getMonth() + 1) + "-" + two(date.getDate()), ""];
    if (state.rehearsal) lines.push(say("was_rehearsal"), "");
    state.log.forEach((entry) => { const words = logWords(entry); if (words) lines.push(clock(entry.at) + "  " + words); });
    v.warnings.filter((w) => w.kind !== "clock").forEach((w) => lines.push(say("warning") + " " + warningWords(w)));
    lines.push("", say("notes_title"), state.notes.trim() || say("no_notes"), "");
    return lines.join("\r\n");
  }
  function saveReport() {
    send({ type: "notes", text: $("notes").value });
    const link = document.createElement("a");
    const date = new Date(state.begun);
    link.href = URL.createObjectURL(new Blob([report()], { type: "text/plain;charset=utf-8" }));
    link.download = plan.id + "-" + date.getFullYear() + two(date.getMonth() + 1) + two(date.getDate()) + ".txt";
    document.body.append(link);
    link.click();
    link.remove();
    window.setTimeout(() => URL.revokeObjectURL(link.href), 5000);
    write($("saved"), say("saved", { file: link.download }));
  }
  function drawOver(v) {
    write($("over-title"), state.phase === "running" ? say("end_question") : state.phase === "over" ? say("ended") : say("not_started"));
    show($("finish"), state.phase === "running");
    show($("reopen"), state.phase === "over");
    const hot = v.machines.filter((m) => m.on !== null && m.state !== "off");
    write($("still-hot"), hot.length ? say("still_hot", { machines: hot.map((m) => plan.machines.find((p) => p.id === m.id).name).join(", ") }) : say("none_hot"));
    mark($("still-hot"), "short", hot.length);
    const open = v.warnings.length;
    write($("over-warnings"), open ? v.warnings.map(warningWords).join(" ") : say("no_warnings"));
    offs.forEach(({ machine, node }) => show(node, hot.some((m) => m.id === machine.id)));
  }
  const offs = plan.machines.map((machine) => {
    const node = button("btn", say("off_of", { machine: machine.name }), () => send({ type: "heat-off", machine: machine.id }));
    $("offs").append(node);
    return { machine, node };
  });

  // --- sound, sleep, speech ---------------------------------------------------------------------------

  let audio = null;
  function beep(times, pitch) {
    if (!state.sound) return;
    try {
      audio = audio || new (window.AudioContext || window.webkitAudioContext)();
      audio.resume();
      for (let i = 0; i < times; i += 1) {
        const tone = audio.createOscillator(), loud = audio.createGain(), at = audio.currentTime + i * 0.35;
        tone.frequency.value = pitch;
        loud.gain.setValueAtTime(0.0001, at);
        loud.gain.exponentialRampToValueAtTime(0.5, at + 0.02);
        loud.gain.exponentialRampToValueAtTime(0.0001, at + 0.28);
        tone.connect(loud).connect(audio.destination);
        tone.start(at);
        tone.stop(at + 0.3);
      }
    } catch (silent) { /* a tablet without sound shows the same */ }
  }

  let awake = null;
  async function stayAwake() {
    if (state.phase === "over" || awake || !("wakeLock" in navigator) || document.visibilityState !== "visible") return;
    try {
      awake = await navigator.wakeLock.request("screen");
      awake.addEventListener("release", () => { awake = null; tellAwake(); });
    } catch (refused) { awake = null; }
    tellAwake();
  }
  function tellAwake() {
    document.querySelectorAll("[data-awake]").forEach((node) => write(node, say(awake ? "awake" : "not_awake")));
  }

  /* Only what a leader would call out is spoken: a group moves, a limit breaks. Never a countdown. */
  let spoken = null;
  function speak(v) {
    const is = {
      groups: v.groups.map((g) => (g.slot ? "in" + g.slot.id : g.next ? "to" + g.next.id : "end")).join(),
      soon: v.groups.filter((g) => g.state === "soon" && g.next).map((g) => g.slot.id).join(),
      warned: v.warnings.filter((w) => !w.seen).map((w) => w.key).join(),
      purge: v.machines.filter((m) => m.state === "purge").map((m) => m.id).join(),
    };
    const was = spoken;
    spoken = is;
    if (!was || state.phase !== "running") return;
    const words = [];
    if (is.warned !== was.warned && is.warned) {
      words.push(say("warning") + " " + warningWords(v.warnings.find((w) => !w.seen)));
      beep(3, 440);
    } else if (is.purge !== was.purge && is.purge) beep(3, 440);
    if (is.groups !== was.groups) {
      const before = was.groups.split(","), after = is.groups.split(",");
      v.groups.forEach((g, i) => {
        if (before[i] === after[i]) return;
        if (g.slot) words.push(say("say_in", { n: g.group, what: stations[g.slot.activity].name }));
        else if (g.next) words.push(say("say_move", { n: g.group, what: stations[g.next.activity].name, place: placeOf(g.next) }));
        else words.push(say("say_tidy", { n: g.group }));
      });
      beep(2, 880);
    } else if (is.soon !== was.soon && is.soon) beep(1, 880);
    if (words.length) write($("spoken"), words.join(" "));
  }

  // --- drawing ----------------------------------------------------------------------------------------

  function draw() {
    const v = clockwork.view(state, now());
    changeScreen(screen());
    drawHead(v);
    if (shown === "before") { v.machines.forEach((m, i) => drawMachine(cards.before[i], m)); drawBefore(v); }
    if (shown === "running") {
      v.groups.forEach((g, i) => drawGroup(rows[i], g, v));
      v.machines.forEach((m, i) => drawMachine(cards.running[i], m));
      drawThen(v);
      drawFoot(v);
    }
    if (shown === "over") drawOver(v);
    if (shown === "ask") drawAsk();
    speak(v);
  }
  function drawAsk() {
    const d = new Date(state.seen);
    const date = d.getFullYear() + "-" + two(d.getMonth() + 1) + "-" + two(d.getDate());
    write($("ask-why"), state.hash !== plan.hash ? say("ask_changed", { date, time: clock(state.seen) }) : say("ask_old", { date, time: clock(state.seen) }));
    show($("ask-go-on"), state.hash === plan.hash);
  }

  // --- taps -------------------------------------------------------------------------------------------

  function leave() {
    window.history.replaceState(null, "", "#");
    draw();
  }
  function tap(id, what) { $(id).addEventListener("click", what); }
  tap("start", () => { send({ type: "start" }); stayAwake(); });
  tap("more", () => { page = (page + 1) % pages(); draw(); });
  tap("hold-all", () => send({ type: clockwork.view(state, now()).allHeld ? "resume-all" : "hold-all" }));
  tap("extend-all", () => send({ type: "extend-all", minutes: 2 }));
  tap("seen", () => { if (warned) send({ type: "ok", key: warned }); });
  tap("take-clock", () => send({ type: "take-clock" }));
  tap("undo", () => send({ type: "undo" }));
  tap("sound", () => { send({ type: "sound", on: !state.sound }); beep(1, 880); });
  tap("count-all", () => saveCount(plan.people.expected));
  tap("count-save", () => saveCount(Number(typed)));
  tap("steps-back", () => openSteps(null));
  tap("hold-in-emergency", () => send({ type: "hold-all" }));
  tap("finish", () => { send({ type: "notes", text: $("notes").value }); send({ type: "finish" }); });
  tap("reopen", () => { send({ type: "reopen" }); leave(); });
  tap("save", saveReport);
  tap("ask-go-on", () => { asking = false; wentOn = true; draw(); });
  tap("ask-save", saveReport);
  tap("ask-anew", () => { asking = false; forget(); state = anew(); window.history.replaceState(null, "", "#"); keep(); draw(); });
  let sure = 0;
  tap("anew", () => {
    if (now() - sure > 5000) { sure = now(); write($("anew"), say("anew_sure")); return; }
    sure = 0;
    write($("anew"), say("anew"));
    forget();
    state = anew();
    keep();
    leave();
  });
  $("notes").addEventListener("input", () => send({ type: "notes", text: $("notes").value }));
  document.querySelectorAll("[data-go]").forEach((node) => node.addEventListener("click", () => go(node.dataset.go)));
  document.querySelectorAll("[data-back]").forEach((node) => node.addEventListener("click", leave));
  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && !asking) { if (shown === "emergency" && openProcedure !== null) openSteps(null); else leave(); }
    if (shown === "count" && /^\d$/.test(event.key)) key(event.key);
    if (shown === "count" && event.key === "Backspace") key("back");
  });
  window.addEventListener("hashchange", draw);
  window.addEventListener("resize", draw);
  document.addEventListener("visibilitychange", () => { tick(); stayAwake(); });
  window.addEventListener("pagehide", keep);
  document.addEventListener("click", stayAwake);

  let settled = false;
  tellStore();
  document.body.classList.add("works");
  if (!asking) send({ type: "tick" }); else draw();
  settled = true;
  if (document.fonts) document.fonts.ready.then(draw); // lines are as high as the type makes them
  tellAwake();
  window.setInterval(tick, 500);

  /* Installed once visited, where the browser lets it be: over https or from this machine itself. */
  if (window.isSecureContext && /^https?:$/.test(window.location.protocol)) {
    const link = document.createElement("link");
    link.rel = "manifest";
    link.href = plan.id + "-board.webmanifest";
    document.head.append(link);
    if ("serviceWorker" in navigator) navigator.serviceWorker.register("boards.js").catch(() => undefined);
  }
})();
