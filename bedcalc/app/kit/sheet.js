// Carries the style (anywidget puts _css into the page's head), and keeps plain keys for
// the sheet: else "d d" on a button would delete the cell and arrows would leave a list.
// Keys with Ctrl or Command, and Shift+Enter, stay JupyterLab's.
function initialize() {
  const page = document.documentElement;
  if (page.dataset.bcKeys) return;
  page.dataset.bcKeys = "kept";
  window.addEventListener("keydown", (event) => {
    const target = event.target;
    if (!target.closest?.(".bc")) return;
    const labs = event.ctrlKey || event.metaKey || event.altKey ||
      (event.shiftKey && event.key === "Enter") || event.key === "Escape";
    target.toggleAttribute("data-lm-suppress-shortcuts", !labs);
  }, true);
}
function render({ el }) {
  el.classList.add("bc-style");
}
export default { initialize, render };
