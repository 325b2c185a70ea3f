// A sentence that changes: the same element stays, so that screen readers say the news.
function render({ model, el }) {
  el.classList.add("bc-live");
  el.setAttribute("role", "status");
  el.setAttribute("aria-live", "polite");
  const show = () => {
    el.dataset.tone = model.get("tone");
    el.innerHTML = model.get("html"); // made and escaped by Python
  };
  model.on("change", show);
  show();
  return () => model.off("change", show);
}
export default { render };
