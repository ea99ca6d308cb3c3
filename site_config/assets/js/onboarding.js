/* Ticks of a page of visits: kept on this device, and given out only as a file the reader asks for. */
(function () {
  "use strict";
  var KEY = "benchleaf.ticks";
  var boxes = Array.prototype.slice.call(document.querySelectorAll("input[data-tick]"));
  if (!boxes.length) return;

  function stored() {
    try {
      var kept = JSON.parse(window.localStorage.getItem(KEY) || "{}");
      return kept && typeof kept === "object" ? kept : {};
    } catch (unreadable) { return {}; }
  }
  function keep(ticks) {
    try { window.localStorage.setItem(KEY, JSON.stringify(ticks)); } catch (refused) { /* private window: lasts for this page */ }
  }
  function today() {
    var now = new Date();
    var two = function (n) { return (n < 10 ? "0" : "") + n; };
    return now.getFullYear() + "-" + two(now.getMonth() + 1) + "-" + two(now.getDate());
  }

  var count = document.querySelector("[data-ticks-all]");
  function tell() {
    if (!count) return;
    var done = boxes.filter(function (box) { return box.checked; }).length;
    count.hidden = false;
    count.textContent = count.getAttribute("data-says").replace("{done}", done).replace("{all}", boxes.length);
  }

  var ticks = stored();
  boxes.forEach(function (box) {
    var id = box.getAttribute("data-tick");
    box.checked = Object.prototype.hasOwnProperty.call(ticks, id);
    box.addEventListener("change", function () {
      ticks = stored(); // another page may have ticked since
      if (box.checked) ticks[id] = today(); else delete ticks[id];
      keep(ticks);
      tell();
    });
  });
  tell();

  function asText() {
    var lines = [document.querySelector("h1").textContent.trim(), ""];
    document.querySelectorAll(".visit").forEach(function (visit) {
      var head = visit.previousElementSibling;
      lines.push(head ? head.textContent.replace("\u00b6", "").trim() : "");
      visit.querySelectorAll("input[data-tick]").forEach(function (box) {
        var day = ticks[box.getAttribute("data-tick")] || "";
        lines.push((box.checked ? "[x] " : "[ ] ") + box.parentNode.textContent.trim() + (box.checked && day ? " (" + day + ")" : ""));
      });
      lines.push("");
    });
    return lines.join("\n");
  }
  var save = document.querySelector("[data-ticks-save]");
  if (save) {
    save.hidden = false;
    save.addEventListener("click", function () {
      var link = document.createElement("a");
      link.href = URL.createObjectURL(new Blob([asText()], { type: "text/plain" }));
      link.download = save.getAttribute("data-ticks-save");
      document.body.appendChild(link);
      link.click();
      link.remove();
      window.setTimeout(function () { URL.revokeObjectURL(link.href); }, 1000);
    });
  }
})();
