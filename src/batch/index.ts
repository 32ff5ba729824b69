/** Measuring many clips: what is measured already is known by its content and settings. */
export { WorkProcess, workerBeside, type WorkMeans } from './work-process.js';
export { jobKey, settingsKey, settingsKeyOf, type JobSettings, type SettingsBesides } from './job-key.js';
