// Starts what a page has, once it is read. Everything that other scripts or the tests may ask for
// hangs on one global: baybook.
import { startAwake } from "./awake.js";
import { startBay } from "./bay.js";
import { startCalculatorForm } from "./calculator-form.js";
import { car, startCar } from "./car.js";
import { startCarryCode } from "./carry-code.js";
import { startDock } from "./dock.js";
import { startEmbed } from "./embed.js";
import { startExercises } from "./exercise.js";
import { startFinder } from "./finder.js";
import { startIndexFilter } from "./index-filter.js";
import { startFolding } from "./folding.js";
import { startHeader } from "./header.js";
import { startIntake } from "./intake.js";
import { job, startJob } from "./job.js";
import { startJudging } from "./judging.js";
import { startKeptCurve } from "./kept-curve.js";
import { startOpenJobs } from "./open-jobs.js";
import { startOffline } from "./offline.js";
import { startOwnCar } from "./own-car.js";
import { startPhotos } from "./photos.js";
import { startPlanTree } from "./plan-tree.js";
import { startReading } from "./reading.js";
import { startRecordEntries } from "./record-entry.js";
import { startSheetPage } from "./sheet-page.js";
import { store } from "./store.js";
import { startUnits, units } from "./units.js";
import { startWideTables } from "./wide-tables.js";
import { startWork } from "./work.js";

Object.assign(window.baybook, { car, job, store, units });

const STARTS = [
  startHeader,
  startFolding,
  startWideTables,
  startUnits,
  startCar,
  startEmbed,
  startRecordEntries,
  startCalculatorForm,
  startFinder,
  startCarryCode,
  startIndexFilter,
  startPlanTree,
  startOwnCar,
  startBay,
  startJudging,
  startReading,
  startIntake,
  startDock,
  startPhotos,
  startKeptCurve,
  startAwake,
  startWork,
  startOpenJobs,
  startSheetPage,
  startJob,
  startExercises,
  startOffline,
];

document.addEventListener("DOMContentLoaded", () => {
  for (const start of STARTS) start();
});
