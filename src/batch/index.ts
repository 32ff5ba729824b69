/** Measuring many clips: what is measured already is known by its content and settings. */
export { jobKey, settingsKey, settingsKeyOf, type JobSettings, type SettingsBesides } from './job-key.js';
