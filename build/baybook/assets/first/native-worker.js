// Keeps the browser's own Worker, before the search's stand-in for pages from a folder replaces it.
window.baybookNativeWorker = window.Worker;
