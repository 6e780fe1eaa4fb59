"use strict";
// On the pages where a brief and a rubric, or the rules of a contest, are written: checks while somebody types.
(function () {
  const form = document.getElementById("writing");
  const live = document.getElementById("live");
  const fields = ["brief", "rubric", "rules"].map(function (name) { return document.getElementById(name); }).filter(Boolean);
  const PAUSE_MS = 500;
  let timer = 0;
  let asked = 0;

  function put(html) {
    const fresh = new DOMParser().parseFromString(html, "text/html");
    const said = fields.map(function (field) {
      const part = fresh.getElementById("said-" + field.id);
      if (!part) return "";
      document.getElementById(part.id).replaceWith(part);
      return part.dataset.say;
    });
    const words = said.join(" ").trim();
    if (live.textContent !== words) live.textContent = words;
  }

  async function check() {
    asked += 1;
    const mine = asked;
    const data = new FormData();
    fields.forEach(function (field) { data.append(field.id, field.value); });
    data.append("csrf_token", form.elements.csrf_token.value);
    try {
      const answer = await fetch(form.dataset.check, { method: "POST", body: data });
      if (mine !== asked) return; // somebody typed on, and a newer check is under way
      if (answer.redirected || answer.status === 400) live.textContent = form.dataset.saySignedOut;
      else if (answer.ok) put(await answer.text());
      else live.textContent = form.dataset.sayLate;
    } catch (error) {
      live.textContent = form.dataset.sayAway;
    }
  }

  function later() {
    clearTimeout(timer);
    timer = setTimeout(check, PAUSE_MS);
  }

  fields.forEach(function (field) { field.addEventListener("input", later); });
})();
