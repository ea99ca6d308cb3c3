/* Light and dark, the finder, and the panel of pages. Everything else works without a script. */
(function () {
  "use strict";
  var KEY = "benchleaf.scheme";
  var root = document.documentElement;
  var darkSystem = window.matchMedia("(prefers-color-scheme: dark)");

  function stored() {
    try { return window.localStorage.getItem(KEY); } catch (refused) { return null; }
  }
  function keep(scheme) {
    try { window.localStorage.setItem(KEY, scheme); } catch (refused) { /* private window: lasts for this page */ }
  }
  function show(scheme) {
    root.setAttribute("data-md-color-scheme", scheme);
    document.body.setAttribute("data-md-color-scheme", scheme);
    document.querySelectorAll("[data-scheme]").forEach(function (button) {
      button.setAttribute("aria-pressed", String(scheme === "slate"));
    });
  }
  function toggle() {
    var next = root.getAttribute("data-md-color-scheme") === "slate" ? "default" : "slate";
    keep(next);
    show(next);
  }

  show(root.getAttribute("data-md-color-scheme") || "default");
  darkSystem.addEventListener("change", function (event) {
    if (!stored()) show(event.matches ? "slate" : "default");
  });
  document.querySelectorAll("[data-scheme]").forEach(function (button) {
    button.addEventListener("click", toggle);
  });

  var finder = document.getElementById("__search");
  var query = document.querySelector(".finder input[name=query]");
  var opener = document.querySelector("[data-find]");
  function find(open) {
    if (finder.checked !== open) finder.click();
    (open ? query : opener).focus();
  }
  if (finder && query && opener) {
    opener.addEventListener("click", function () { find(true); });
    document.querySelector("[data-find-close]").addEventListener("click", function () { find(false); });
    query.addEventListener("keydown", function (event) {
      if (event.key === "Escape") opener.focus();
    });
    /* the theme's shortcut focuses the query, which a hidden finder cannot take */
    document.addEventListener("keydown", function (event) {
      var typing = event.target.closest && event.target.closest("input, textarea, select, [contenteditable]");
      if (event.key === "/" && !typing && !event.ctrlKey && !event.metaKey && !event.altKey) {
        event.preventDefault();
        find(true);
      }
    });
  }

  var pages = document.querySelector("details.pages");
  if (pages) {
    document.addEventListener("click", function (event) {
      if (pages.open && !pages.contains(event.target)) pages.open = false;
    });
    document.addEventListener("keydown", function (event) {
      if (event.key !== "Escape" || !pages.open) return;
      pages.open = false;
      pages.querySelector("summary").focus();
    });
  }

  /* the page says when the shop opens in an ordinary week; only the reader's own clock knows today */
  function two(number) { return String(number).padStart(2, "0"); }
  function shutOn(date, ranges) {
    return ranges.split(" ").some(function (range) {
      var ends = range.split("/");
      return ends.length === 2 && ends[0] <= date && date <= ends[1];
    });
  }
  function tellToday(door) {
    var now = new Date();
    var date = [now.getFullYear(), two(now.getMonth() + 1), two(now.getDate())].join("-");
    var row = document.querySelector('tr[data-day="' + (now.getDay() + 6) % 7 + '"]');
    if (!row || shutOn(date, door.dataset.closed || "")) return;
    row.classList.add("today");
    var clock = two(now.getHours()) + ":" + two(now.getMinutes());
    var open = (row.dataset.open || "").split(" ").filter(Boolean).map(function (span) { return span.split("/"); });
    var next = open.filter(function (span) { return clock < span[1]; })[0];
    if (!next) return;
    var says = clock < next[0] ? door.dataset.openLater : door.dataset.openNow;
    door.textContent = says.replace("{time}", clock < next[0] ? next[0] : next[1]);
  }
  var door = document.querySelector("[data-open-now]");
  if (door) tellToday(door);

  document.querySelectorAll("[data-print]").forEach(function (button) {
    button.addEventListener("click", function () { window.print(); });
  });

  /* a link to a working opens what it lies in, where the browser does not do so by itself */
  function reveal() {
    var target = window.location.hash.length > 1 && document.getElementById(window.location.hash.slice(1));
    var fold = target && target.closest("details:not([open])");
    if (!fold) return;
    for (; fold; fold = fold.parentElement.closest("details")) fold.open = true;
    target.scrollIntoView();
  }
  window.addEventListener("hashchange", reveal);
  reveal();

  /* long lists of labels: without a script every row is shown */
  document.querySelectorAll("[data-filter]").forEach(function (label) {
    var box = label.querySelector("input");
    var rows = Array.prototype.slice.call(document.querySelectorAll("[data-entry]"));
    var parts = Array.prototype.filter.call(document.querySelectorAll(".part"), function (part) { return part.querySelector("[data-entry]"); });
    label.hidden = false;
    box.addEventListener("input", function () {
      var words = box.value.toLowerCase().split(/\s+/).filter(Boolean);
      rows.forEach(function (row) {
        var text = row.textContent.toLowerCase();
        row.hidden = !words.every(function (word) { return text.indexOf(word) >= 0; });
      });
      parts.forEach(function (part) {
        part.hidden = !part.querySelector("[data-entry]:not([hidden])");
        part.previousElementSibling.hidden = part.hidden;
      });
    });
  });

  /* a ticked box in a written list is named by its own line */
  document.querySelectorAll(".task-list-item [type=checkbox]").forEach(function (box) {
    box.setAttribute("aria-label", box.closest("li").textContent.trim().slice(0, 200));
  });

  /* the print room: without a script every sheet is shown */
  var choose = document.querySelector("[data-choose]");
  if (choose) {
    var sheets = Array.prototype.slice.call(document.querySelectorAll("[data-about]"));
    var told = choose.querySelector("[data-count]");
    var wanted = function () {
      return Array.prototype.map.call(choose.querySelectorAll("[data-by]"), function (select) { return select.value; }).filter(Boolean);
    };
    var choosing = function () {
      var about = wanted(), state = choose.querySelector("[data-state]").value, shown = 0;
      sheets.forEach(function (sheet) {
        var tags = sheet.dataset.about.split(" ");
        sheet.hidden = (state && sheet.dataset.state !== state) || !about.every(function (tag) { return tags.indexOf(tag) >= 0; });
        shown += sheet.hidden ? 0 : 1;
      });
      document.querySelectorAll(".sheets").forEach(function (group) {
        group.hidden = !group.querySelector("[data-about]:not([hidden])");
      });
      told.textContent = shown + " / " + sheets.length;
    };
    choose.hidden = false;
    choose.addEventListener("change", choosing);
    choosing();
  }
})();
