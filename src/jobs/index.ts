/**
 * Everything the command line does, as functions that take data and give data. Each takes what a file would hold, or the
 * file's path; progress, warnings and cancelling go through `Ports`.
 */
export { Problem, type ProblemCode } from '../base/problem.js';
export { defaultCamera } from '../camera/default.js';
export { type Camera, cameraSchema } from '../camera/description.js';
export type { ResolvedSettings, Settings, SettingsFile } from '../camera/settings.js';
export type { Clip } from '../clip/open.js';
export type { Labels } from '../score/labels.js';
export type { Score } from '../score/score.js';
export { Cache } from '../store/cache.js';
export { type AddInput, type AddResult, add } from './add.js';
export { type BudgetInput, type BudgetResult, budget, budgetDocument } from './budget.js';
export { type CheckInput, type CheckResult, check, checkDocument, type Firmware } from './check.js';
export { type DemoResult, demo } from './demo.js';
export {
  bestMask,
  type DiagnoseInput,
  type DiagnoseResult,
  diagnose,
  diagnosisDocument,
} from './diagnose.js';
export {
  type EveningInput,
  type EveningResult,
  type EveningWritten,
  evening,
  eveningDocument,
  marksCsv,
} from './evening.js';
export { type FitInput, type FitResult, fit, fitDocument } from './fit.js';
export { type KeptInput, type KeptResult, kept } from './kept.js';
export {
  exportLabels,
  type LabelsExportInput,
  type LabelsExportResult,
  labelsExportDocument,
} from './labels-export.js';
export { importLabels, type LabelsImportInput, type LabelsImportResult } from './labels-import.js';
export { type CameraGiven, type ClipGiven, openClips, type SettingsGiven } from './open.js';
export {
  type PlanInput,
  type PlanResult,
  plan,
  planDocument,
  type SitePlan,
} from './plan.js';
export type { Ports } from './ports.js';
export { type ReplayInput, type ReplayResult, replay, replayDocument } from './replay.js';
export { jsonSchemaNamed, type SchemaListed, schemasListed } from './schemas.js';
export { type SizeInput, type SizeResult, size, sizeDocument } from './size.js';
export type { CameraAtSite, CameraTold, WhichCamera } from './tune/cameras-told.js';
export {
  type Choice,
  type SiteResult,
  type TuneInput,
  type TuneResult,
  tune,
  tuneDocument,
  type Wanted,
} from './tune.js';
export { type WeatherInput, type WeatherResult, weather, weatherDocument } from './weather.js';
