"use strict";
// A member and its row light up together while one of them is pointed at or has the focus; the row is told below the drawing.
(function () {
  const numbered = /^(?:drawn|member)-(\d+)$/;

  function pair(start) {
    const found = start instanceof Element && start.closest("[id^=drawn-], [id^=member-]");
    const number = found && numbered.exec(found.id);
    return number && ["drawn-", "member-"].map(function (kind) { return document.getElementById(kind + number[1]); });
  }

  function light(start) {
    document.querySelectorAll(".lit").forEach(function (old) { old.classList.remove("lit"); });
    const both = pair(start);
    if (!both) return;
    both.forEach(function (one) { if (one) one.classList.add("lit"); });
    tell(both[1]);
  }

  function tell(row) {
    const place = document.querySelector("[data-pointed]");
    if (!row || !place) return;
    const heads = row.closest("table").tHead.rows[0].cells;
    place.textContent = Array.from(row.cells, function (cell, column) {
      return column ? heads[column].textContent + " " + cell.innerText.replace(/\s+/g, " ").trim() : cell.textContent.trim();
    }).join(" · ");
  }

  const place = document.querySelector("[data-pointed]");
  if (place) place.hidden = false;
  document.addEventListener("pointerover", function (event) { light(event.target); });
  document.addEventListener("focusin", function (event) { light(event.target); });
})();
