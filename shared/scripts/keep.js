/* Remembers on this device alone which lines are ticked off and what the reader chose. The page works without it. */
(() => {
  const key = document.body.dataset.kept;
  const ticks = document.querySelectorAll('input[type="checkbox"]');
  const choices = document.querySelectorAll('input[type="radio"]');
  const clear = document.getElementById('clear');
  let kept = {};
  try { kept = JSON.parse(localStorage.getItem(key)) || {}; } catch { /* nothing kept, or nothing may be kept */ }
  const done = new Set(Array.isArray(kept.done) ? kept.done : []);
  const show = () => {
    for (const tick of ticks) tick.checked = done.has(tick.name);
    clear.hidden = done.size === 0;
  };
  const keep = () => {
    const chosen = [...choices].filter((choice) => choice.checked).map((choice) => choice.id);
    try { localStorage.setItem(key, JSON.stringify({ done: [...done], chosen })); } catch { /* full, or not allowed */ }
  };
  for (const choice of choices) {
    if (Array.isArray(kept.chosen) && kept.chosen.includes(choice.id)) choice.checked = true;
    choice.addEventListener('change', keep);
  }
  for (const tick of ticks) {
    tick.addEventListener('change', () => {
      if (tick.checked) done.add(tick.name); else done.delete(tick.name);
      show();
      keep();
    });
  }
  clear.addEventListener('click', () => {
    done.clear();
    show();
    keep();
  });
  show();
})();
