// Tells Python how wide the output is: after 120 ms of calm, in steps of 10 px.
function render({ model, el }) {
  let wait;
  const watch = new ResizeObserver((entries) => {
    clearTimeout(wait);
    const width = Math.floor(entries[0].contentRect.width / 10) * 10;
    if (width > 0) wait = setTimeout(() => { model.set("width", width); model.save_changes(); }, 120);
  });
  el.classList.add("bc-width");
  watch.observe(el);
  return () => { clearTimeout(wait); watch.disconnect(); };
}
export default { render };
