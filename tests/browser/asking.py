"""What the walk asks of a page, as scripts that a browser evaluates in it; each answers with a list of what is wrong."""

from __future__ import annotations

from importlib.resources import files

AXE = files("axe_playwright_python").joinpath("axe.min.js").read_text(encoding="utf-8")

AXE_FINDS = """async () => {
  const runOnly = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
  const found = await axe.run(document, {runOnly, rules: {'target-size': {enabled: true}}, resultTypes: ['violations']});
  return found.violations.map(v => v.id + ': ' + v.nodes.map(n => n.html.slice(0, 150)).join(' | ')) }"""

TOO_WIDE = """() => {
  const wide = document.documentElement.scrollWidth - innerWidth;
  return wide > 0 ? ['too wide by ' + wide + ' px'] : [] }"""

HIDDEN_SCROLLERS = """() => [...document.querySelectorAll('main *')]
  .filter(e => e.tagName !== 'TEXTAREA' && e.tagName !== 'INPUT' && e.clientWidth > 1 && e.scrollWidth > e.clientWidth + 1)
  .filter(e => getComputedStyle(e).overflowX !== 'visible' && e.clientWidth > 1)
  .filter(e => !(e.tabIndex === 0 && (e.tagName === 'PRE' || (e.ariaLabel || e.getAttribute('aria-labelledby')) && e.getAttribute('role') === 'region')))
  .map(e => 'cut off, or scrolls and takes no focus: ' + e.outerHTML.slice(0, 150))"""

COVERED = """() => {
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT), boxes = [];
  for (let node; node = walker.nextNode();) {
    const parent = node.parentElement;
    if (!node.textContent.trim() || !parent.checkVisibility()) continue;
    if (parent.closest('svg, .unseen, .skip, .scroll, .stacks thead, option, pre')) continue;
    const range = document.createRange(); range.selectNodeContents(node);
    for (const r of range.getClientRects()) if (r.width > 1 && r.height > 1) boxes.push([node, r]);
  }
  boxes.sort((a, b) => a[1].top - b[1].top);
  const wrong = [];
  boxes.forEach(([node, r], i) => {
    if (r.right > innerWidth + 1 || r.left < -1) wrong.push('outside: ' + node.textContent.trim().slice(0, 60));
    for (let j = i + 1; j < boxes.length && boxes[j][1].top < r.bottom; j++) {
      const [other, s] = boxes[j];
      const across = Math.min(r.right, s.right) - Math.max(r.left, s.left), down = Math.min(r.bottom, s.bottom) - s.top;
      if (other !== node && across > 2 && down > .4 * Math.min(r.height, s.height))
        wrong.push('one on the other: ' + node.textContent.trim().slice(0, 40) + ' / ' + other.textContent.trim().slice(0, 40));
    }
  });
  return wrong }"""

UNSEEN_FOCUS = """() => {
  const wrong = [];
  for (const e of document.querySelectorAll('a[href], button, input:not([type=hidden]), select, textarea, summary, [tabindex="0"]')) {
    if (!e.checkVisibility() || e.disabled) continue;
    e.focus();
    const style = getComputedStyle(e), reach = e.querySelector('.reach');
    const ring = style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2;
    const lit = reach && parseFloat(getComputedStyle(reach).strokeOpacity) >= .3;
    if (document.activeElement !== e || !(ring || lit)) wrong.push('no sign of the focus: ' + e.outerHTML.slice(0, 150));
  }
  return wrong }"""

NO_TIE = """() => {
  const wrong = [];
  if (!document.querySelector('main form.form')) return wrong;  // nothing is there to be filled in
  for (const box of document.querySelectorAll('.problem[role=alert]')) {
    if (!box.id) wrong.push('no id: ' + box.textContent.trim());
    else if (!document.querySelector(`[aria-describedby~="${box.id}"]`))
      wrong.push('no field, group or form says that it is meant by: ' + box.textContent.trim());
  }
  return wrong }"""

SKIP_IS_FIRST = """() => {
  const first = document.querySelector('a[href], button, input:not([type=hidden]), select, textarea, [tabindex="0"]');
  first.focus();
  return first.className === 'skip' && first.getBoundingClientRect().left >= 0 }"""

OF_THE_SCREEN = """() => [...document.querySelectorAll('nav, button, .button, input:not([type=hidden]), .skip, footer')]
  .filter(e => e.checkVisibility()).map(e => 'on paper: ' + e.outerHTML.slice(0, 120))"""
