/** The one global of the book; what hangs on it is written down by the module that hangs it there. */
interface Window {
  baybook: any;
}

/** What others made, in the joined script by name. */
declare const carriedLibraries: Record<string, any>;
