"use strict";
// Keeps the table of a class up to date while it is looked at; without it a link loads the page again.
(function () {
  const rows = document.getElementById("class-rows"), live = document.getElementById("live");
  const OFTEN_MS = 5000, SELDOM_MS = 30000, OFTEN_FOR = 360;
  let asked = 0;

  function put(html, version) {
    const active = document.activeElement;
    const inside = active && rows.contains(active), link = inside ? active.getAttribute("href") : null;
    const fresh = new DOMParser().parseFromString(html, "text/html");
    rows.replaceChildren(...fresh.body.childNodes);
    rows.dataset.version = version;
    // Whoever was on a link of the table by keyboard, or on the table to slide it, stays there.
    const again = inside && !link ? rows.querySelector(".scroll") : link && Array.from(rows.querySelectorAll("a")).find(function (a) { return a.getAttribute("href") === link; });
    if (again) again.focus({ preventScroll: true });
    live.textContent = rows.dataset.sayFresh;
  }

  async function look() {
    if (document.hidden) return again();
    try {
      const address = new URL(rows.dataset.rows, location.href);
      address.searchParams.set("seen", rows.dataset.version);
      const answer = await fetch(address);
      if (answer.redirected) { location.reload(); return; }
      if (answer.status === 200) put(await answer.text(), answer.headers.get("X-Version"));
      else if (answer.status === 204 && live.textContent === rows.dataset.sayAway) live.textContent = "";
    } catch (error) {
      live.textContent = rows.dataset.sayAway;
    }
    again();
  }

  function again() {
    asked += 1;
    // For half an hour often, then seldom: a page left open over night should not keep asking.
    setTimeout(look, asked < OFTEN_FOR ? OFTEN_MS : SELDOM_MS);
  }

  again();
})();
