'use strict';
// Keeps answers on the phone until the server has them: what is typed while the network is
// gone is sent later. Without this script the pages are forms like any other.
(() => {
  const {link, own, count} = document.body.dataset;
  let store, session;
  try {
    store = localStorage;
    session = sessionStorage;
  } catch {
    return; // a browser that keeps nothing: the forms do without
  }
  if (!link) return;

  const main = document.querySelector('main');
  // By taster and not by link: a new link finds what the old one could not send any more.
  const slot = glass => 'hedgerow ' + own + ' ' + glass;
  const page = glass => 'hedgerow ' + link + ' ' + glass;
  const glasses = Array.from({length: Number(count)}, (_, i) => i + 1);
  const form = () => document.querySelector('form[data-glass]');
  const here = () => form() ? Number(form().dataset.glass) : 0;
  const read = glass => JSON.parse(store.getItem(slot(glass)));
  const write = (glass, draft) => {
    try { store.setItem(slot(glass), JSON.stringify(draft)); return true; } catch { return false; }
  };
  const waiting = () => glasses.filter(g => (read(g) || {}).queued);

  // What is said of the state, in words; the disc beside them is full once all is sent.
  const say = (text, done) => {
    const state = document.querySelector('.state');
    if (!state) return;
    state.classList.toggle('ok', Boolean(done));
    const words = state.querySelector('span');
    if (words.textContent !== text) words.textContent = text;
  };
  const kept = () => {
    const list = waiting();
    if (list.length > 1) return 'Glasses ' + list.join(', ') + ' are kept on this phone, not sent yet';
    if (list.length && list[0] !== here()) return 'Glass ' + list[0] + ' is kept on this phone, not sent yet';
    return 'Kept on this phone, not sent yet';
  };

  const take = f => ({fields: [...new FormData(f)], queued: false, link, at: Date.now()});
  const fill = (f, fields) => {
    for (const [name, value] of fields) {
      if (name === 'key') continue;
      for (const e of f.elements) {
        if (e.name !== name) continue;
        if (e.type === 'radio') e.checked = e.value === value;
        else e.value = value;
      }
    }
  };

  // The questions without an answer; who cannot tell how strong it is need not say whether it is too much.
  const missing = f => [...f.querySelectorAll('fieldset')].filter(q => !q.querySelector(':checked') &&
    !(q.dataset.after && (f.querySelector('#' + q.dataset.after + ' :checked') || {}).value === '?'));

  // Sends one glass. The answer is sent, refused with a status, or nothing where the network is gone.
  // What led on to the page that thanks is in the notebook, whatever came of that page: the link or
  // the tasting may have ended between the two.
  const send = async (glass, draft) => {
    const stop = new AbortController();
    const timer = setTimeout(() => stop.abort(), 20000);
    try {
      const answer = await fetch(link + '/' + glass, {method: 'POST', body: new URLSearchParams(draft.fields),
        signal: stop.signal});
      if (answer.url.endsWith('/sent')) return {sent: answer.url, ended: endings[answer.status]};
      if (answer.status >= 500 || answer.status === 429) return {};
      return {refused: answer.status};
    } catch {
      return {};
    } finally {
      clearTimeout(timer);
    }
  };

  const reasons = {
    404: 'Not sent: this link has ended. What you chose is still here; ask the brewer for a new one',
    409: 'Not sent: this link is in use on another phone. What you chose is still here',
    410: 'Not sent: the tasting is closed. What you chose is still here',
  };
  const endings = {
    404: 'Sent. This link has ended since; ask the brewer for a new one',
    410: 'Sent. The tasting is closed now',
  };
  // The last word on this page: there is no other one to lead to.
  const end = words => {
    away = false;
    say(words, true);
    const bar = document.getElementById('on');
    if (bar) bar.remove();
  };

  // Sends what waits, one after the other, and tries again later as long as something waits.
  const pauses = [2000, 5000, 15000];
  let tries = 0, timer = 0, busy = false;
  const flush = async () => {
    if (busy) return;
    busy = true;
    clearTimeout(timer);
    for (const glass of waiting()) {
      const draft = read(glass);
      const got = await send(glass, draft);
      if (!got.sent && !got.refused) break;
      tries = 0;
      // typed anew meanwhile: that one is still to be sent
      const same = JSON.stringify(read(glass)) === JSON.stringify(draft);
      if (got.sent && same) store.removeItem(slot(glass));
      if (got.ended) end(got.ended);
      if (got.refused && same) write(glass, {...draft, queued: false, refused: got.refused});
      if (got.refused && same) {
        say(reasons[got.refused] || 'Glass ' + glass + ' was not taken; go back to it and send it again');
      }
    }
    busy = false;
    const left = waiting();
    if (left.length) {
      // what is said of the glass in hand stays, if it is none of those
      if (!here() || left.includes(here())) say(kept());
      timer = setTimeout(flush, pauses[Math.min(tries++, pauses.length - 1)]);
    } else if (away && !glasses.some(g => (read(g) || {}).refused)) {
      away = false;
      location.assign(link); // all is sent: on with what the server says
    }
  };

  // The forms of the glasses to come are fetched beforehand, so that one can go on without the network.
  const ahead = async () => {
    for (const glass of glasses) {
      if (glass <= here() || session.getItem(page(glass))) continue;
      try {
        const answer = await fetch(link + '/' + glass);
        if (!answer.ok) return;
        const got = new DOMParser().parseFromString(await answer.text(), 'text/html');
        if (got.querySelector('form[data-glass]')) session.setItem(page(glass), got.querySelector('main').innerHTML);
      } catch {
        return;
      }
    }
  };
  let away = false; // pages are shown that the server did not send just now
  const goOn = from => {
    const next = glasses.find(g => g > from && !(read(g) || {}).queued && session.getItem(page(g)));
    const bar = document.createElement('div');
    const words = document.createElement('p');
    bar.id = 'on';
    bar.append(words);
    away = true;
    if (next) {
      words.textContent = 'The network is gone. Your answers are safe on this phone and are sent later.';
      const button = document.createElement('button');
      button.type = 'button';
      button.className = 'send';
      button.textContent = 'Go on to glass ' + next;
      button.addEventListener('click', () => {
        main.innerHTML = session.getItem(page(next));
        history.pushState(null, '', link + '/' + next);
        document.title = 'Glass ' + next + ' of ' + count;
        setup();
        window.scrollTo(0, 0);
      });
      bar.append(button);
    } else {
      words.textContent = 'Leave this page open: it sends by itself once the network is back.';
    }
    const old = document.getElementById('on');
    if (old) old.replaceWith(bar); else form().after(bar);
    (bar.querySelector('button') || document.querySelector('.state')).focus();
  };

  const submit = async event => {
    event.preventDefault();
    const f = form(), glass = here(), draft = take(f);
    const open = missing(f);
    // the server names what is missing beside each question
    if (open.length && navigator.onLine) { f.submit(); return; }
    if (open.length) {
      say('Not kept: ' + open.length + ' of the questions still want an answer');
      open[0].querySelector('input').focus();
      return;
    }
    const safe = write(glass, {...draft, queued: true});
    say('Sending');
    const got = await send(glass, draft);
    if (got.sent) {
      store.removeItem(slot(glass));
      if (got.ended) end(got.ended); else location.assign(got.sent);
    } else if (got.refused && reasons[got.refused]) {
      write(glass, {...draft, refused: got.refused});
      say(reasons[got.refused]);
    } else if (got.refused || !safe) {
      write(glass, draft);
      f.submit();
    } else {
      say(kept());
      goOn(glass);
      flush();
    }
  };

  // A fault that was answered goes, beside its question and above.
  const settle = question => {
    if (!question || !question.matches('.bad')) return;
    question.classList.remove('bad');
    question.removeAttribute('aria-describedby');
    question.querySelector('.err').remove();
    const line = document.querySelector('.wrong a[href="#' + question.id + '"]');
    if (line) line.parentElement.remove();
    const above = document.querySelector('.wrong');
    if (above && !above.querySelector('li')) above.remove();
  };

  const setup = () => {
    const f = form();
    if (!f) return;
    const glass = here(), draft = read(glass), wrong = document.querySelector('.wrong');
    if (draft && !wrong) {
      fill(f, draft.fields);
      say(reasons[draft.refused] || kept());
    }
    if (wrong) wrong.focus();
    f.addEventListener('input', event => {
      settle(event.target.closest('fieldset'));
      write(glass, take(f));
      say('Kept on this phone, not sent yet');
    });
    f.addEventListener('submit', submit);
  };

  // What another link of this taster could not send is sent by this one; what nobody came back
  // to for days goes.
  for (const glass of glasses) {
    const draft = read(glass);
    if (draft && draft.refused && draft.link !== link) write(glass, {...draft, link, refused: 0, queued: true});
  }
  const days = 3 * 24 * 3600 * 1000;
  for (const key of Object.keys(store)) {
    if (key.startsWith('hedgerow ') && !(JSON.parse(store.getItem(key)).at > Date.now() - days)) store.removeItem(key);
  }

  setup();
  ahead();
  away = waiting().length > 0;
  flush();
  window.addEventListener('online', () => { tries = 0; flush(); });
  window.addEventListener('pageshow', event => { if (event.persisted) flush(); });
  window.addEventListener('popstate', () => location.reload());
})();
