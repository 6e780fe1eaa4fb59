"use strict";
// Fills the sign-in from a card, shows passwords on request, loads a page that waits again, and on the page of an attempt puts in place what changes while it waits.
(function () {
  // A sign-in card's code opens this page with '#CLASS/words', which the browser sends to nobody.
  const words = document.getElementById("passphrase"), code = document.getElementById("class_code");
  const card = decodeURIComponent(location.hash.slice(1)).split("/");
  if (words && code && card.length === 2) {
    code.value = card[0];
    words.value = card[1];
    history.replaceState(null, "", location.pathname);
  }

  document.querySelectorAll("[data-shows]").forEach(function (box) {
    const field = document.getElementById(box.dataset.shows);
    box.closest("[hidden]").hidden = false;
    box.addEventListener("change", function () { field.type = box.checked ? "text" : "password"; });
  });

  document.querySelectorAll("[data-look-again]").forEach(function (waits) {
    setTimeout(function () { location.reload(); }, Number(waits.dataset.lookAgain));
  });

  // Drafts kept in this browser go when they are handed in, and all of them when somebody signs out.
  function forget(which) {
    try {
      Object.keys(localStorage).filter(function (name) {
        return name.startsWith("draft-") && which(name);
      }).forEach(function (name) { localStorage.removeItem(name); });
    } catch (error) { /* a browser may forbid it, and then nothing was kept */ }
  }
  document.querySelectorAll("form[data-signs-out]").forEach(function (form) {
    form.addEventListener("submit", function () { forget(function () { return true; }); });
  });

  // Pages of stations that this browser keeps go when nobody is signed in any more; readings that wait to be sent stay.
  if (window.caches && !document.querySelector("form[data-signs-out]") && !document.getElementById("as-kept")) {
    caches.delete("kingpost stations").catch(function () { /* then nothing was kept */ });
  }

  const parts = document.getElementById("parts");
  if (parts) forget(function (name) { return name.endsWith("-sent") || localStorage.getItem(name + "-sent"); });
  if (!parts) return;
  const live = document.getElementById("live");
  const final = ["printed", "unprinted", "failed", "held"];
  let asked = 0;

  function again() {
    if (final.includes(parts.dataset.stage) && parts.dataset.plan !== "waiting") return;
    asked += 1;
    // Once a second for two minutes, then every ten: a page left open should not keep asking.
    setTimeout(look, asked < 120 ? 1000 : 10000);
  }

  function say(state) {
    const words = { failed: parts.dataset.sayFailed, printed: parts.dataset.sayPrinted, unprinted: parts.dataset.sayUnprinted, held: parts.dataset.sayHeld };
    return words[state.stage] || parts.dataset.sayMarked.replace("TOTAL", state.total).replace("OUT_OF", state.out_of);
  }

  function sayPlan(plan) {
    if (plan === "ready") return parts.dataset.sayPlanReady;
    return plan === "failed" ? parts.dataset.sayPlanFailed : "";
  }

  function replace(html) {
    const fresh = new DOMParser().parseFromString(html, "text/html");
    fresh.querySelectorAll("[data-version]").forEach(function (part) {
      const old = document.getElementById(part.id);
      if (old && old.dataset.version !== part.dataset.version) old.replaceWith(part);
    });
  }

  async function look() {
    try {
      const answer = await fetch(parts.dataset.state, { headers: { Accept: "application/json" } });
      if (answer.status === 401) { location.reload(); return; }
      if (answer.ok) {
        const state = await answer.json();
        const waits = document.getElementById("waits");
        if (waits && waits.textContent !== state.waits) waits.textContent = state.waits;
        if (state.stage !== parts.dataset.stage || state.plan !== parts.dataset.plan) {
          const page = await fetch(parts.dataset.parts);
          if (page.ok) {
            replace(await page.text());
            live.textContent = state.stage === parts.dataset.stage ? sayPlan(state.plan) : say(state);
            parts.dataset.stage = state.stage;
            parts.dataset.plan = state.plan;
          }
        }
      }
    } catch (error) {
      live.textContent = parts.dataset.sayAway;
    }
    again();
  }

  again();
})();
