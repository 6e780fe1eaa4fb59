"use strict";
// The board on the wall: asks every three seconds what is new, and goes on asking whatever happens.
(function () {
  const live = document.getElementById("live"), away = document.getElementById("away");
  let shown = "";

  async function look() {
    try {
      const answer = await fetch(live.dataset.now, { cache: "no-store" });
      if (answer.ok) {
        const html = await answer.text();
        away.hidden = true;
        if (html !== shown) {
          shown = html;
          live.replaceChildren(...new DOMParser().parseFromString(html, "text/html").body.childNodes);
        }
      } else {
        away.hidden = false;
      }
    } catch (error) {
      away.hidden = false;
    }
    setTimeout(look, 3000);
  }

  setTimeout(look, 3000);
})();
