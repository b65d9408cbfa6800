// Starts what a page has, once it is read. Everything that other scripts or the tests may ask for
// hangs on one global: baybook.
import { startBay } from "./bay.js";
import { startBenchPanel } from "./bench-panel.js";
import { startCalculatorForm } from "./calculator-form.js";
import { car, startCar } from "./car.js";
import { startCarryCode } from "./carry-code.js";
import { startEmbed } from "./embed.js";
import { startFinder } from "./finder.js";
import { startIndexFilter } from "./index-filter.js";
import { startFolding } from "./folding.js";
import { job, startJob } from "./job.js";
import { startReading } from "./reading.js";
import { startSearchName } from "./search-name.js";
import { startSheetPage } from "./sheet-page.js";
import { sheets } from "./sheet-store.js";
import { startUnits, units } from "./units.js";

Object.assign(window.baybook, { car, job, sheets, units });

const STARTS = [
  startSearchName,
  startFolding,
  startUnits,
  startCar,
  startEmbed,
  startCalculatorForm,
  startFinder,
  startCarryCode,
  startIndexFilter,
  startBay,
  startReading,
  startJob,
  startBenchPanel,
  startSheetPage,
];

document.addEventListener("DOMContentLoaded", () => {
  for (const start of STARTS) start();
});
