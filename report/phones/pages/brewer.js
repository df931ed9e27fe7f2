'use strict';
// Keeps the overview up to date. Without it everything works by loading the page anew.
(() => {
  const {live, page} = document.body.dataset;
  if (!live || !window.EventSource) return;
  let busy = false, again = false;
  const refresh = async () => {
    if (busy) { again = true; return; }
    busy = true;
    try {
      const answer = await fetch(page);
      if (answer.redirected) { location.assign(answer.url); return; }
      if (answer.ok) take(new DOMParser().parseFromString(await answer.text(), 'text/html'));
    } catch {
      // the next change tries again
    } finally {
      busy = false;
      if (again) { again = false; refresh(); }
    }
  };
  const take = fresh => {
    // what is in hand stays in hand
    const held = document.activeElement && document.activeElement.id;
    for (const part of document.querySelectorAll('[data-part]')) {
      const now = fresh.querySelector('[data-part="' + part.dataset.part + '"]');
      if (now && now.innerHTML !== part.innerHTML) part.innerHTML = now.innerHTML;
    }
    document.title = fresh.title;
    const again = held && document.getElementById(held);
    if (again && again !== document.activeElement) again.focus();
  };
  new EventSource(live).onmessage = refresh;
})();
