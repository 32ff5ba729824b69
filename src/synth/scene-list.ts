/** The scenes that can be filmed: parts of one invented old dairy that became a bicycle workshop, and a measuring wall. */

/** Name and one line on each scene. */
export const SYNTH_SCENES = [
  {
    name: 'dairy-hall',
    about: 'high hall with a polished concrete floor, benches, crates, shelves and bicycles',
  },
  {
    name: 'tiled-corridor',
    about: 'corridor of glazed tiles with a tiled floor, door openings, trolleys and crates',
  },
  { name: 'plywood-loft', about: 'loft lined and floored with plywood, timber posts, boxes and boards' },
  { name: 'aluminium-rail', about: 'the hall again, with an aluminium rail and its supports in front' },
  {
    name: 'measuring-wall',
    about: 'one flat speckled wall square to the lens at 3 m: for measuring the renderer',
  },
] as const;

/** Name of a scene. */
export type SceneName = (typeof SYNTH_SCENES)[number]['name'];
