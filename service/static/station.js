"use strict";
// A station: keeps what was typed in this browser until the server has it, asks once about what is out of range,
// and sends every reading with its own key, so that one which is sent twice counts once.
(function () {
  const form = document.getElementById("reading");
  if (!form) return;
  const told = document.getElementById("told"), list = document.getElementById("queue");
  const box = document.getElementById("kept-here"), away = document.getElementById("away");
  const number = form.elements.number, value = form.elements.value, broke = form.elements.broke, how = form.elements.how;
  const words = JSON.parse(document.getElementById("words").dataset.say);
  const sign = (1.5).toLocaleString(document.documentElement.lang).charAt(1);
  const store = "kingpost station " + form.dataset.station;
  const loadTest = form.dataset.kind === "load test";
  let sending = false, shown = "", asked = null;

  function newKey() {
    if (crypto.randomUUID) return crypto.randomUUID();
    return Array.from(crypto.getRandomValues(new Uint8Array(16)), function (b) { return b.toString(16).padStart(2, "0"); }).join("");
  }
  function kept() { return JSON.parse(localStorage.getItem(store) || "[]"); }
  function keep(items) { localStorage.setItem(store, JSON.stringify(items)); draw(); }
  function change(key, what) { keep(kept().map(function (one) { return one.key === key ? Object.assign(one, what) : one; })); }
  function drop(key) { keep(kept().filter(function (one) { return one.key !== key; })); }
  function say(text) { told.hidden = !text; told.textContent = text; }

  function plain(text) {  // '12', '#12' and the address on a label
    const found = text.trim().match(/(?:^|[#/])0*(\d{1,6})$/);
    return found ? found[1] : "";
  }
  function bridge() {
    const wanted = plain(number.value);
    return wanted ? form.querySelector('#bridges option[value="' + wanted + '"]') : null;
  }
  function figure(x) { return String(Number(x.toPrecision(3))).replace(".", sign); }
  function fill(text, values) { return text.replace(/\{(\w+)\}/g, function (_, name) { return values[name]; }); }

  function doubts() {  // the same questions as the server's, so that they are asked while the bridge is still here
    const one = bridge(), typed = Number(value.value.replace(",", ".")), said = [];
    if (!one) return [fill(words.no_number, { number: number.value })];
    if (!value.value.trim() || !isFinite(typed)) return [fill(words.no_digits, { value: value.value })];
    if (!loadTest) {
      const predicted = Number(one.dataset.mass), limit = Number(form.dataset.limit);
      if (predicted && Math.abs(typed / predicted - 1) > Number(form.dataset.differs)) said.push(fill(words.mass, { mass: figure(typed), predicted: figure(predicted) }));
      if (limit && typed > limit) said.push(fill(words.over, { mass: figure(typed), limit: limit }));
      form.querySelectorAll("input[name=check]:not(:checked)").forEach(function (tick) { said.push(fill(words.not_ticked, { check: tick.value })); });
    } else {
      const set = form.dataset, predicted = Number(one.dataset.load), factor = form.elements.unit.value === "kg" ? Number(set.gravity) : 1;
      const line = Number(set.start) + Number(set.slope) * (typed * factor / Number(set.newtons) - Number(set.tare));
      const load = line * Number(set.newtons) + Number(set.gear);
      if (load > 1.05 * Number(set.most)) said.push(fill(words.stops, { load: figure(load), most: figure(Number(set.most)) }));
      if (predicted && (load < 0.2 * predicted || load > 2.5 * predicted)) said.push(fill(words.load, { load: figure(load), predicted: figure(predicted) }));
    }
    return said;
  }

  function draw() {
    const items = kept();
    box.hidden = items.length === 0;
    list.replaceChildren(...items.map(function (one) {
      const row = document.createElement("li"), text = document.createElement("p");
      text.textContent = fill(words.reading, { number: one.number, reading: one.value + (one.unit ? " " + one.unit : " g") }) + " " + (one.said || words.waits);
      row.append(text);
      if (one.state === "ask") row.append(button(words.keep, function () { change(one.key, { sure: "yes", state: "", said: "" }); send(); }));
      if (one.state) row.append(button(one.state === "ask" ? words.leave : words.read, function () { drop(one.key); }));
      return row;
    }));
  }
  function button(label, act) {
    const made = document.createElement("button");
    made.type = "button"; made.className = "quiet"; made.textContent = label;
    made.addEventListener("click", act);
    return made;
  }

  async function send() {
    if (sending) return;
    sending = true;
    try {
      for (let one = kept().find(waits); one; one = kept().find(waits)) {
        const body = new FormData();
        Object.keys(one).forEach(function (name) {
          if (name === "check") one.check.forEach(function (tick) { body.append("check", tick); });
          else if (name !== "state" && name !== "said") body.append(name === "taken" ? "taken at" : name, one[name]);
        });
        body.append("csrf_token", form.elements.csrf_token.value);
        const answer = await fetch(form.action, { method: "POST", body: body, headers: { Accept: "application/json" } });
        if (!(answer.headers.get("Content-Type") || "").startsWith("application/json")) {
          away.textContent = answer.status >= 500 ? words.busy : words.signed_out;
          if (answer.status >= 500) setTimeout(send, 5000);
          return;
        }
        const said = await answer.json();
        if (answer.ok) { drop(one.key); say(said.said); }
        else { change(one.key, { state: said.ask ? "ask" : "refused", said: said.said }); say(""); }
        away.textContent = "";
      }
      await last();
    } catch (error) {
      away.textContent = words.away;
      setTimeout(send, 4000);
    } finally {
      sending = false;
    }
  }
  function waits(one) { return !one.state; }

  async function last() {
    const answer = await fetch(form.dataset.last);
    if (!answer.ok || answer.redirected) return;
    const asKept = document.getElementById("as-kept");
    if (asKept) asKept.hidden = true;
    document.getElementById("last").innerHTML = await answer.text();
  }

  form.addEventListener("submit", function (event) {
    event.preventDefault();
    const said = doubts(), again = JSON.stringify([number.value, value.value]);
    if (said.length && asked !== again) {  // asked about once: the same thing typed again is meant
      asked = bridge() && isFinite(Number(value.value.replace(",", "."))) ? again : null;
      say(said.join(" ") + (asked ? " " + words.once_more : ""));
      value.focus(); value.select();
      return;
    }
    const one = { key: newKey(), number: plain(number.value), value: value.value, remark: form.elements.remark.value, sure: said.length ? "yes" : "", taken: new Date().toISOString() };
    if (loadTest) Object.assign(one, { unit: form.elements.unit.value, how: how.value, broke: broke.value, where: form.elements.where.value, again: form.elements.again.value });
    else one.check = Array.from(form.querySelectorAll("input[name=check]:checked"), function (tick) { return tick.value; });
    keep(kept().concat([one]));
    asked = null; shown = "";
    number.value = value.value = form.elements.remark.value = "";
    if (loadTest) { document.getElementById("drawn").replaceChildren(); broke.selectedIndex = how.selectedIndex = 0; form.elements.again.value = ""; }
    form.querySelectorAll("input[name=check]").forEach(function (tick) { tick.checked = false; });
    document.getElementById("about").replaceChildren();
    form.querySelectorAll(".problem").forEach(function (old) { old.remove(); });
    say(fill(words.on_its_way, { number: one.number }));
    number.focus();
    send();
  });

  number.addEventListener("keydown", function (event) {  // a scanner ends with Enter: go on to the reading
    if (event.key === "Enter" && !value.value) { event.preventDefault(); value.focus(); }
  });
  number.addEventListener("change", function () {
    const one = bridge(), about = document.getElementById("about");
    if (!one || shown === one.value) return;
    shown = number.value = one.value;
    const text = document.createElement("p");
    text.className = "bridge";
    text.textContent = one.value + " " + one.dataset.alias + ", " + one.dataset.division + ". " + words.predicted + " " + (one.dataset.mass ? figure(Number(one.dataset.mass)) + " g" : "") + (one.dataset.load ? ", " + figure(Number(one.dataset.load)) + " N" : "") + ".";
    about.replaceChildren(text);
    members(one);
    if (!loadTest) return;
    const body = new FormData();
    body.append("number", one.value);
    body.append("csrf_token", form.elements.csrf_token.value);
    fetch(form.dataset.call, { method: "POST", body: body, headers: { Accept: "application/json" } }).catch(function () {});
    drawing(one.value);
  });
  function members(one) {
    if (!broke) return;
    broke.querySelectorAll("[data-member], [data-joint]").forEach(function (old) { old.remove(); });
    const names = one.dataset.members.split(" ").filter(Boolean);
    names.forEach(function (name, index) { offer(name, name).dataset.member = index; });
    new Set(names.flatMap(function (name) { return name.split("-"); })).forEach(function (name) {
      offer(fill(words.joint, { name: name }), name).dataset.joint = "";
    });
  }
  function offer(label, name) {
    const made = new Option(label, name);
    broke.append(made);
    return made;
  }
  async function drawing(wanted) {
    const place = document.getElementById("drawn");
    place.replaceChildren();
    try {
      const answer = await fetch(form.dataset.page + "?number=" + wanted);
      const page = new DOMParser().parseFromString(await answer.text(), "text/html"), drawn = page.querySelector("#drawn .drawing");
      if (drawn && shown === wanted) place.replaceChildren(drawn);
    } catch (error) { /* without the network the members are chosen from the list */ }
  }

  if (loadTest) [how, broke].forEach(function (list) {  // typed like the rest: a digit chooses, Enter keeps
    list.addEventListener("keydown", function (event) {
      if (event.key === "Enter") { event.preventDefault(); form.requestSubmit(document.getElementById("keep")); }
    });
  });

  form.addEventListener("click", function (event) {  // where it broke first, chosen on the drawing
    const link = event.target.closest && event.target.closest('a[href^="#member-"]');
    if (!link || !broke) return;
    event.preventDefault();
    const choice = broke.querySelector('[data-member="' + link.getAttribute("href").slice(8) + '"]');
    if (choice) { choice.selected = true; (how.value ? broke : how).focus(); }
  });

  window.addEventListener("online", send);
  draw();
  if (kept().some(waits) || document.getElementById("as-kept")) send();
})();
