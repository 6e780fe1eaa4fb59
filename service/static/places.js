"use strict";
// A link that names a line and a column leads to that place of a text that is being written.
document.addEventListener("click", function (event) {
  const link = event.target.closest("a[data-line]");
  const field = link && document.getElementById(link.hash.slice(1));
  if (!field || !field.setSelectionRange) return;
  event.preventDefault();
  const line = Number(link.dataset.line), column = Number(link.dataset.column);
  const lines = field.value.split("\n");
  const before = lines.slice(0, line - 1).reduce(function (sum, text) { return sum + text.length + 1; }, 0);
  const length = (lines[line - 1] || "").length;
  field.focus();
  field.setSelectionRange(before + Math.min(column - 1, length), before + length);
  const height = parseFloat(getComputedStyle(field).lineHeight) || 20;
  field.scrollTop = Math.max(0, (line - 4) * height);
  field.scrollIntoView({ block: "nearest" });
});
