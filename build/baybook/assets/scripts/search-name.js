// Names the theme's search for screen readers: the theme leaves its dialog and its region unnamed.
export function startSearchName() {
  for (const part of document.querySelectorAll(".md-search, .md-search__inner")) {
    part.setAttribute("aria-label", "Search");
  }
}
