'use strict';
// Keeps the overview up to date. Without it everything works by loading the page anew.
(() => {
  const live = document.body.dataset.live;
  if (!live || !window.EventSource) return;
  let busy = false, again = false;
  const refresh = async () => {
    if (busy) { again = true; return; }
    busy = true;
    try {
      const answer = await fetch(location.href.split('#')[0], {cache: 'no-store'});
      if (answer.redirected) { location.assign(answer.url); return; }
      if (answer.ok) take(new DOMParser().parseFromString(await answer.text(), 'text/html'));
    } catch {
      // the next change tries again
    } finally {
      busy = false;
      if (again) { again = false; refresh(); }
    }
  };
  const take = page => {
    // what is in hand stays in hand
    const held = document.activeElement && document.activeElement.id;
    for (const part of document.querySelectorAll('[data-part]')) {
      const fresh = page.querySelector('[data-part="' + part.dataset.part + '"]');
      if (fresh && fresh.innerHTML !== part.innerHTML) part.innerHTML = fresh.innerHTML;
    }
    document.title = page.title;
    const again = held && document.getElementById(held);
    if (again && again !== document.activeElement) again.focus();
  };
  new EventSource(live).onmessage = refresh;
})();
