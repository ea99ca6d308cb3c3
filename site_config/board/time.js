/* The board's arithmetic of time. Nothing here looks at a page, a clock or a store: every function
   gets the time it is to reckon with, so that a session of three hours can be run in a blink.

   Plan: minutes after midnight, as on the run sheet. State and `now`: milliseconds as in Date.now().
   `boardTime(plan)` gives { fresh, advance, view }. `advance(state, event, now)` never changes the
   state it gets; an event it cannot take leaves all but the time seen as it was. Only whoever calls
   knows the tablet's time zone: `midnight` comes in with `fresh`, `tick` and `start`. */
var boardTime = (function () {
  "use strict";
  const MINUTE = 60000;
  const SOON = 2 * MINUTE;
  const AS_PLANNED = MINUTE; // starting within a minute of the plan keeps the plan's own times
  const REHEARSAL = 90 * MINUTE; // further off than this, it is not the session itself
  const JITTER = 1500; // a clock that is nudged by its network is not a clock set back
  const FIRST = ["hold", "ready", "clock", "end"]; // what can hurt somebody is told before what is late
  const SLACK = 30000; // half a minute over a limit is not told

  function boardTime(plan) {
    const order = plan.slots.slice().sort((a, b) => a.start - b.start || a.id - b.id);
    const ownSlots = new Map(plan.groups.map((g) => [g.n, order.filter((s) => s.group === g.n)]));
    const machines = new Map(plan.machines.map((m) => [m.id, m]));
    const first = order.length ? order[0].start : plan.start;

    // --- state --------------------------------------------------------------------------------

    function fresh(now, midnight) {
      return {
        v: 1, id: plan.id, hash: plan.hash, phase: "before", begun: now,
        seen: now, skew: 0, setBack: [], midnight, shift: 0, rehearsal: false,
        ticked: {}, counts: [], longer: {}, late: {}, held: {}, heat: {}, ok: {},
        undo: null, log: [], notes: "", sound: false,
      };
    }

    /** The time to reckon with: the clock's, but never earlier than what was seen already. */
    function effective(state, now) {
      return Math.max(now + state.skew, state.seen);
    }

    function clocked(state, now) {
      const told = now + state.skew;
      if (told >= state.seen - JITTER) return { ...state, seen: Math.max(told, state.seen) };
      const by = state.seen - told;
      const setBack = [...state.setBack, { at: state.seen, by }];
      return { ...logged(state, state.seen, "clock", { by }), skew: state.skew + by, setBack };
    }

    function logged(state, at, what, more) {
      return { ...state, log: [...state.log, { at, what, ...more }] };
    }

    // --- when everything is -------------------------------------------------------------------

    function planned(state, minutes) {
      return state.midnight + minutes * MINUTE + state.shift;
    }

    /** Start and end of every slot: its planned time, or later where it must wait for another. */
    function times(state, t) {
      const at = new Map();
      for (const slot of order) {
        let start = planned(state, slot.start);
        for (const [before, gap] of slot.waits) start = Math.max(start, at.get(before).end + gap * MINUTE);
        start += (state.late[slot.id] || 0) + liveHold(state, slot, t, true);
        const long = slot.takes * MINUTE + (state.longer[slot.id] || 0) + liveHold(state, slot, t, false);
        at.set(slot.id, { start, end: start + long });
      }
      return at;
    }

    function liveHold(state, slot, t, before) {
      const hold = state.held[slot.group];
      return hold && hold.slot === slot.id && hold.before === before ? t - hold.since : 0;
    }

    /** What a group is in: the slot and whether it has begun; null once all its slots are over. */
    function current(state, at, group, t) {
      const slot = ownSlots.get(group).find((s) => at.get(s.id).end > t);
      return slot ? { slot, before: at.get(slot.id).start > t } : null;
    }

    function finish(state, at) {
      const ends = [...at.values()].map((x) => x.end);
      return Math.max(planned(state, plan.start), ...ends) + plan.tidy * MINUTE;
    }

    function plannedFinish(state) {
      const ends = plan.slots.map((s) => s.start + s.takes);
      return state.midnight + (state.rehearsal ? state.shift : 0) + (Math.max(plan.start, ...ends) + plan.tidy) * MINUTE;
    }

    function latest(state) {
      return state.midnight + plan.end * MINUTE + (state.rehearsal ? state.shift : 0);
    }

    // --- machines -----------------------------------------------------------------------------

    function heatOf(state, id) {
      return state.heat[id] || { on: null, off: null, purged: [] };
    }

    /** Counted back from its first use, wherever that has moved to. */
    function switchOn(state, machine, at) {
      return Math.min(...machine.uses.map((id) => at.get(id).start)) - machine.warm * MINUTE;
    }

    function readyAt(state, machine, at, t) {
      const { on } = heatOf(state, machine.id);
      return (on === null ? Math.max(switchOn(state, machine, at), t) : on) + machine.warm * MINUTE;
    }

    function offAt(state, machine, at) {
      const { off } = heatOf(state, machine.id);
      if (off !== null) return off;
      return Math.max(...machine.uses.map((id) => at.get(id).end));
    }

    /** Every stretch in which plastic stands hot and unused: from, until, and the use that ends it. */
    function waits(state, machine, at, t) {
      const uses = machine.uses.map((id) => at.get(id)).sort((a, b) => a.start - b.start);
      const ends = [...uses, { start: offAt(state, machine, at), end: Infinity }];
      const found = [];
      let from = Math.min(readyAt(state, machine, at, t), uses[0].start);
      for (const use of ends) {
        found.push(...split(from, use.start, heatOf(state, machine.id).purged));
        from = Math.max(from, use.end);
      }
      return found;
    }

    function split(from, until, purges) {
      const cuts = [from, ...purges.filter((p) => p > from && p < until), until];
      return cuts.slice(1).map((end, i) => ({ from: cuts[i], until: end })).filter((w) => w.until > w.from);
    }

    // --- limits -------------------------------------------------------------------------------

    /** Every limit that is broken or will be as things stand: key, what it is, by how much. */
    function broken(state, at, t) {
      if (state.phase === "before") return [];
      const found = [];
      const over = finish(state, at) - latest(state);
      if (over > SLACK) found.push({ key: "end", kind: "end", by: over, at: finish(state, at), limit: latest(state) });
      for (const machine of plan.machines) {
        found.push(...tooLong(state, machine, at, t), ...tooEarly(state, machine, at, t));
      }
      return found;
    }

    function tooLong(state, machine, at, t) {
      if (machine.hold === null || heatOf(state, machine.id).on === null) return [];
      const most = machine.hold * MINUTE;
      return waits(state, machine, at, t)
        .filter((w) => w.until - w.from > most + SLACK)
        .map((w) => ({
          key: "hold:" + machine.id + ":" + Math.round((w.from - state.midnight) / MINUTE), kind: "hold",
          machine: machine.id, by: w.until - w.from - most, from: w.from, until: w.until, at: w.from + most, most,
        }));
    }

    function tooEarly(state, machine, at, t) {
      const use = Math.min(...machine.uses.map((id) => at.get(id).start));
      const ready = readyAt(state, machine, at, t);
      if (ready - use <= SLACK) return [];
      return [{ key: "ready:" + machine.id, kind: "ready", machine: machine.id, by: ready - use, at: use, until: ready }];
    }

    function warnings(state, at, t) {
      const found = broken(state, at, t).map((w) => ({ ...w, seen: seenEnough(state, w) }));
      state.setBack.forEach((s, i) => found.push({ key: "clock:" + i, kind: "clock", at: s.at, by: s.by, seen: seenEnough(state, { key: "clock:" + i, by: s.by }) }));
      return found.sort((a, b) => a.seen - b.seen || FIRST.indexOf(a.kind) - FIRST.indexOf(b.kind));
    }

    /** Whether it was acknowledged, and is not a minute worse since. */
    function seenEnough(state, warning) {
      const known = state.ok[warning.key];
      return known !== undefined && warning.by <= known + MINUTE;
    }

    /** When the first new limit breaks if the group stays held from now on; null if none does. */
    function breaksIfHeld(state, group, t) {
      const now = new Set(broken(state, times(state, t), t).map((w) => w.key));
      for (let more = 1; more <= 60; more += 1) {
        const later = t + more * MINUTE;
        const hit = broken(state, times(state, later), later).find((w) => !now.has(w.key));
        if (hit) return { at: later, group, kind: hit.kind, machine: hit.machine || null };
      }
      return null;
    }

    // --- events -------------------------------------------------------------------------------

    const EVENTS = {
      tick: (state, event) => (state.phase === "before" && event.midnight !== undefined && event.midnight !== state.midnight ? nextDay(state, event.midnight) : state),
      check: (state, event, t) => {
        const ticked = { ...state.ticked };
        if (event.on) ticked[event.id] = t; else delete ticked[event.id];
        return { ...state, ticked };
      },
      count: (state, event, t) =>
        Number.isInteger(event.n) && event.n >= 0 && event.n < 1000
          ? logged({ ...state, counts: [...state.counts, { at: t, n: event.n }] }, t, "count", { n: event.n })
          : state,
      "heat-on": (state, event, t) =>
        machines.has(event.machine) && mayHeat(state, event.machine)
          ? heated(state, event.machine, { on: t, off: null }, t, "heat-on") : state,
      "heat-off": (state, event, t) =>
        heatOf(state, event.machine).on !== null ? heated(state, event.machine, { off: t }, t, "heat-off") : state,
      purge: (state, event, t) => {
        const heat = heatOf(state, event.machine);
        return heat.on === null ? state : heated(state, event.machine, { purged: [...heat.purged, t] }, t, "purge");
      },
      start: (state, event, t) => (mayStart(state) ? started(state, event.midnight === undefined ? state.midnight : event.midnight, t) : state),
      hold: (state, event, t) => undoable(state, event, t, held(state, [event.group], t)),
      resume: (state, event, t) => resumed(state, [event.group], t),
      "hold-all": (state, event, t) => undoable(state, event, t, held(state, plan.groups.map((g) => g.n), t)),
      "resume-all": (state, event, t) => resumed(state, plan.groups.map((g) => g.n), t),
      extend: (state, event, t) => undoable(state, event, t, extended(state, [event.group], event.minutes, t)),
      "extend-all": (state, event, t) => undoable(state, event, t, extended(state, plan.groups.map((g) => g.n), event.minutes, t)),
      undo: (state, event, t) =>
        mayUndo(state, t) ? logged({ ...state, ...state.undo.was, undo: null }, t, "undo", { of: state.undo.event }) : state,
      ok: (state, event, t) => {
        const warning = warnings(state, times(state, t), t).find((w) => w.key === event.key);
        return warning ? logged({ ...state, ok: { ...state.ok, [event.key]: warning.by } }, t, "ok", { key: event.key }) : state;
      },
      "take-clock": (state, event, t, now) => rebased(state, now - t),
      finish: (state, event, t) => (state.phase === "running" ? logged({ ...state, phase: "over", held: {} }, t, "finish") : state),
      reopen: (state, event, t) => (state.phase === "over" ? logged({ ...state, phase: "running" }, t, "reopen") : state),
      notes: (state, event) => ({ ...state, notes: String(event.text) }),
      sound: (state, event) => ({ ...state, sound: Boolean(event.on) }),
    };

    function advance(state, event, now) {
      const timed = clocked(state, now);
      const take = Object.prototype.hasOwnProperty.call(EVENTS, event.type) ? EVENTS[event.type] : null;
      return take ? take(timed, event, timed.seen, now) : timed;
    }

    /** Nothing that was looked at yesterday counts today. */
    function nextDay(state, midnight) {
      return { ...state, midnight, begun: state.seen, ticked: {}, counts: [] };
    }

    function openChecks(state, machine) {
      return plan.checks.filter((c) => (machine === undefined ? c.machine === null : c.machine === machine || c.machine === null) && !state.ticked[c.id]);
    }

    function mayHeat(state, machine) {
      return openChecks(state, machine).length === 0 && heatOf(state, machine).on === null;
    }

    function mayStart(state) {
      return state.phase === "before" && openChecks(state).length === 0 && state.counts.length > 0;
    }

    function heated(state, id, change, t, what) {
      return logged({ ...state, heat: { ...state.heat, [id]: { ...heatOf(state, id), ...change } } }, t, what, { machine: id });
    }

    function started(state, midnight, t) {
      const off = t - (midnight + first * MINUTE);
      const shift = Math.abs(off) < AS_PLANNED ? 0 : off;
      const rehearsal = Math.abs(off) > REHEARSAL;
      return logged({ ...state, phase: "running", midnight, shift, rehearsal }, t, "start", { shift, rehearsal });
    }

    function undoable(state, event, t, next) {
      if (next === state) return state;
      const was = { longer: state.longer, late: state.late, held: state.held };
      return logged({ ...next, undo: { event, at: t, was } }, t, event.type, { group: event.group || 0, minutes: event.minutes || 0 });
    }

    /** A slip of the glove is taken back at once or not at all: later, groups have moved on. */
    function mayUndo(state, t) {
      return state.undo !== null && t - state.undo.at < MINUTE;
    }

    function held(state, groups, t) {
      if (state.phase !== "running") return state;
      const at = times(state, t);
      const now = { ...state.held };
      for (const group of groups) {
        const where = now[group] ? null : current(state, at, group, t);
        if (where) now[group] = { since: t, slot: where.slot.id, before: where.before };
      }
      return Object.keys(now).length === Object.keys(state.held).length ? state : { ...state, held: now };
    }

    function resumed(state, groups, t) {
      const some = groups.filter((g) => state.held[g]);
      if (!some.length) return state;
      const next = { ...state, longer: { ...state.longer }, late: { ...state.late }, held: { ...state.held }, undo: null };
      for (const group of some) {
        const hold = state.held[group];
        const kept = hold.before ? next.late : next.longer;
        kept[hold.slot] = (kept[hold.slot] || 0) + t - hold.since;
        delete next.held[group];
      }
      return logged(next, t, some.length > 1 ? "resume-all" : "resume", { group: some.length > 1 ? 0 : some[0] });
    }

    function extended(state, groups, minutes, t) {
      if (state.phase !== "running" || !(minutes > 0)) return state;
      const at = times(state, t);
      const next = { ...state, longer: { ...state.longer }, late: { ...state.late } };
      let changed = false;
      for (const group of groups) {
        const where = current(state, at, group, t);
        if (!where) continue;
        const kept = where.before ? next.late : next.longer;
        kept[where.slot.id] = (kept[where.slot.id] || 0) + minutes * MINUTE;
        changed = true;
      }
      return changed ? next : state;
    }

    /** Move everything that happened by `by`, so that countdowns stay while the clock is put right. */
    function rebased(state, by) {
      if (!by) return state;
      const later = (x) => (x === null ? null : x + by);
      const heat = {};
      for (const [id, h] of Object.entries(state.heat)) heat[id] = { on: later(h.on), off: later(h.off), purged: h.purged.map(later) };
      const heldThen = {};
      for (const [group, h] of Object.entries(state.held)) heldThen[group] = { ...h, since: h.since + by };
      return logged({
        ...state, seen: state.seen + by, skew: 0, setBack: [], shift: state.shift + by, heat, held: heldThen, undo: null,
        counts: state.counts.map((c) => ({ ...c, at: c.at + by })), ok: {},
      }, state.seen + by, "take-clock", { by });
    }

    // --- what is shown ------------------------------------------------------------------------

    function view(state, now) {
      const t = effective(state, now);
      const at = times(state, t);
      const told = warnings(state, at, t);
      return {
        now: t, phase: state.phase, rehearsal: state.rehearsal, finish: finish(state, at), latest: latest(state),
        late: finish(state, at) - plannedFinish(state),
        groups: plan.groups.map((g) => groupView(state, at, g.n, t)),
        machines: plan.machines.map((m) => machineView(state, at, m, t)),
        then: then(state, at, t), warnings: told,
        anyHeld: Object.keys(state.held).length > 0,
        allHeld: state.phase === "running" && plan.groups.every((g) => state.held[g.n] || !current(state, at, g.n, t)),
        count: state.counts.length ? state.counts[state.counts.length - 1] : null,
        openChecks: openChecks(state).map((c) => c.id), mayStart: mayStart(state),
        opens: planned(state, first), slots: plan.slots.map((s) => at.get(s.id)), undo: mayUndo(state, t) ? state.undo.event : null,
      };
    }

    function groupView(state, at, group, t) {
      const where = state.phase === "before" ? null : current(state, at, group, t);
      const own = ownSlots.get(group);
      const hold = state.held[group];
      if (!where) return { group, state: state.phase === "before" ? "before" : "done", slot: null, next: state.phase === "before" ? own[0] : null, until: null, left: 0, held: null };
      const next = where.before ? where.slot : own[own.indexOf(where.slot) + 1] || null;
      const until = where.before ? at.get(where.slot.id).start : at.get(where.slot.id).end;
      const left = until - t;
      return {
        group, slot: where.before ? null : where.slot, next, until, left,
        state: hold ? "held" : where.before ? "moving" : left <= SOON ? "soon" : "in",
        nextAt: next ? at.get(next.id).start : null,
        longer: state.longer[where.slot.id] || 0, held: hold ? t - hold.since : null,
        breaks: hold ? breaksIfHeld(state, group, t) : null,
        moved: Math.round((until - planned(state, where.slot.start + (where.before ? 0 : where.slot.takes))) / MINUTE),
      };
    }

    function machineView(state, at, machine, t) {
      const heat = heatOf(state, machine.id);
      const off = offAt(state, machine, at);
      const ready = readyAt(state, machine, at, t);
      const shown = { id: machine.id, on: heat.on, ready, off, most: machine.hold === null ? null : machine.hold * MINUTE, switchOn: switchOn(state, machine, at), open: openChecks(state, machine.id).map((c) => c.id), mayHeat: mayHeat(state, machine.id) };
      if (heat.on === null) return { ...shown, state: t >= shown.switchOn ? "due-on" : "cold" };
      if (heat.off !== null) return { ...shown, state: "off", cold: heat.off + machine.cool * MINUTE };
      if (t < ready) return { ...shown, state: "warming", left: ready - t };
      const busy = machine.uses.some((id) => at.get(id).start <= t && at.get(id).end > t) && state.phase === "running";
      if (busy) return { ...shown, state: t >= off ? "due-off" : "in-use", used: 0 };
      const wait = waits(state, machine, at, t).find((w) => w.from <= t && w.until > t);
      const from = wait ? wait.from : lastBefore(state, machine, at, t);
      const used = t - from;
      const left = shown.most === null ? null : shown.most - used;
      const done = machine.uses.every((id) => at.get(id).end <= t) && t >= off;
      return { ...shown, state: left !== null && left <= SOON ? "purge" : done ? "due-off" : "waiting", used, left };
    }

    function lastBefore(state, machine, at, t) {
      const ends = machine.uses.map((id) => at.get(id).end).filter((end) => end <= t);
      return Math.max(readyAt(state, machine, at, t), ...ends, ...heatOf(state, machine.id).purged);
    }

    /** What comes next beside the groups' own moves, in order. */
    function then(state, at, t) {
      const coming = [];
      for (const m of plan.machines) {
        const heat = heatOf(state, m.id);
        if (heat.on === null) coming.push({ at: switchOn(state, m, at), what: "on", machine: m.id });
        else if (heat.off === null) coming.push({ at: offAt(state, m, at), what: "off", machine: m.id });
      }
      const end = finish(state, at);
      coming.push({ at: end - plan.tidy * MINUTE, what: "tidy" }, { at: end, what: "end" });
      return coming.filter((c) => c.at > t - 10 * MINUTE).sort((a, b) => a.at - b.at);
    }

    return { fresh, advance, view };
  }

  return boardTime;
})();
