"use strict";
// Where a truss file is written: has it looked at when the writer pauses, and keeps it in this browser.
(function () {
  const form = document.getElementById("typing");
  const field = document.getElementById("text");
  if (!form || !field) return;
  const heard = document.getElementById("heard");
  const key = "draft-" + form.dataset.keep;
  const PAUSE_MS = 1000, ASK_MS = [250, 400, 700, 1000, 2000], MOST_ASKS = 15;
  let timer = 0, busy = false, last = field.value;

  function store(work) {
    try { return work(window.localStorage); } catch (error) { return null; } // a browser may forbid it
  }

  function keep() {
    store(function (kept) {
      kept.removeItem(key + "-sent");
      if (field.value.trim()) kept.setItem(key, field.value); else kept.removeItem(key);
    });
  }

  // What was understood stands beside the text already: there it is said for ears alone.
  function say(words, seen) {
    heard.classList.toggle("unseen", Boolean(seen));
    if (heard.textContent !== words) heard.textContent = words;
  }

  function put(html) {
    const fresh = new DOMParser().parseFromString(html, "text/html").getElementById("looked");
    const old = document.getElementById("looked");
    if (!fresh || !old) return null;
    // While an answer is waited for, the last drawing stays: a page that jumps is hard to read.
    if (fresh.dataset.look !== "waiting" || old.dataset.look !== "done") old.replaceWith(fresh);
    return fresh;
  }

  function wait(ms) {
    return new Promise(function (done) { setTimeout(done, ms); });
  }

  async function follow(attempt) {
    for (let asks = 0; asks < MOST_ASKS; asks += 1) {
      await wait(ASK_MS[Math.min(asks, ASK_MS.length - 1)]);
      const answer = await fetch(form.dataset.look);
      if (!answer.ok || answer.redirected) return;
      const part = put(await answer.text());
      if (!part || part.dataset.attempt !== attempt) return; // another window asked for another text
      if (part.dataset.look !== "waiting") { say(part.dataset.said, true); return; }
    }
    say(form.dataset.sayLate);
  }

  async function look() {
    if (busy || !field.value.trim() || field.value === last) return;
    busy = true;
    const text = field.value;
    const data = new FormData();
    data.append("csrf_token", form.elements.csrf_token.value);
    data.append("quiet", "1");
    data.append("text", text);
    try {
      const answer = await fetch(form.dataset.look, { method: "POST", body: data });
      // Without its cookie a form of ours is refused before anybody looks who sent it.
      if (answer.redirected || answer.status === 400) say(form.dataset.saySignedOut);
      else if (answer.status === 429) later();
      else if (answer.ok) {
        last = text;
        const part = put(await answer.text());
        if (part) await follow(part.dataset.attempt);
      } else say(answer.status === 413 || answer.status === 422 ? await answer.text() : form.dataset.sayLate);
    } catch (error) {
      say(form.dataset.sayAway);
    }
    busy = false;
    if (field.value !== text) later();
  }

  function later() {
    clearTimeout(timer);
    timer = setTimeout(look, PAUSE_MS);
  }

  // What other people left in this browser is not for the one who sits here now.
  store(function (kept) {
    const own = "draft-" + form.dataset.keep.split("-")[0] + "-";
    Object.keys(kept).forEach(function (name) {
      if (name.startsWith("draft-") && !name.startsWith(own)) kept.removeItem(name);
    });
  });
  const kept = store(function (place) { return place.getItem(key); });
  if (form.dataset.fresh) { keep(); history.replaceState(null, "", location.pathname + location.hash); }
  else if (kept) field.value = kept;
  document.getElementById("kept").hidden = false;

  field.addEventListener("input", function () { keep(); later(); });
  form.addEventListener("submit", function (event) {
    const looks = event.submitter && event.submitter.hasAttribute("formaction");
    if (!looks) store(function (place) { place.setItem(key + "-sent", "1"); });
  });

  document.querySelectorAll("a[data-example]").forEach(function (link) {
    link.addEventListener("click", function (event) {
      event.preventDefault();
      const text = document.getElementById("example").textContent;
      if (field.value.trim() && field.value !== text && !confirm(form.dataset.sayReplace)) return;
      field.value = text;
      field.focus();
      field.setSelectionRange(0, 0);
      keep();
      later();
    });
  });

  const shown = document.getElementById("looked");
  if (shown.dataset.look === "waiting") follow(shown.dataset.attempt);
  else if (field.value.trim() && (shown.dataset.look === "none" || field.value !== last)) { last = ""; later(); }
})();
