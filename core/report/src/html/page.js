"use strict";
// A number on the drawing and its card are one thing: whichever is chosen, both are marked.
(() => {
  const pair = (n) => [document.getElementById("f" + n), document.getElementById("m" + n)];
  let current = null;
  const choose = (n, target) => {
    if (current) pair(current).forEach((e) => e && e.classList.remove("current"));
    const [card, mark] = pair(n);
    if (!card) return;
    current = n;
    [card, mark].forEach((e) => e && e.classList.add("current"));
    const goal = target === "f" ? card : mark;
    if (!goal) return;
    const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
    goal.scrollIntoView({ block: target === "f" ? "start" : "center", behavior: calm ? "auto" : "smooth" });
    goal.focus({ preventScroll: true });
  };
  document.addEventListener("click", (event) => {
    const link = event.target.closest("a[href^='#f'], a[href^='#m']");
    const found = link && /^#([fm])(\d+)$/.exec(link.getAttribute("href"));
    if (!found) return;
    event.preventDefault();
    history.replaceState(null, "", found[0]);
    choose(found[2], found[1]);
  });
  // Pointing at a card marks its number without moving anything.
  const point = (event, on) => {
    const card = event.target.closest && event.target.closest("article.card");
    const mark = card && pair(card.id.slice(1))[1];
    if (mark) mark.classList.toggle("pointed", on);
  };
  document.addEventListener("mouseover", (event) => point(event, true));
  document.addEventListener("mouseout", (event) => point(event, false));
  const start = /^#([fm])(\d+)$/.exec(location.hash);
  if (start) choose(start[2], start[1]);
})();
