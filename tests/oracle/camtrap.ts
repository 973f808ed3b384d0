import { parse } from 'csv-parse/sync';

/**
 * Rules written from the published tables of Camtrap DP 1.0.2 (TDWG): which fields a table has, which must be filled, what they
 * may hold, what is unique and what refers to what. From memory: the patterns of filePath and fileMediatype, the least extent of a box, and the order of columns.
 */
interface Rule {
  required?: true;
  unique?: true;
  /** The table and the field in which a value must stand. */
  refersTo?: [TableName, string];
  check?: (value: string) => boolean;
}
type TableName = 'deployments' | 'media' | 'observations';
type Row = Record<string, string>;

const oneOf =
  (...words: string[]) =>
  (value: string) =>
    words.includes(value);
const number =
  (low: number, high: number, whole = false) =>
  (value: string) =>
    /^-?\d+(\.\d+)?(e-?\d+)?$/.test(value) &&
    Number(value) >= low &&
    Number(value) <= high &&
    (!whole || Number.isInteger(Number(value)));
const truth = oneOf('true', 'false');
/** %Y-%m-%dT%H:%M:%S%z: a zone, no fractions of a second. */
const datetime = (value: string) =>
  /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(Z|[+-]\d\d:?\d\d)$/.test(value) && Number.isFinite(Date.parse(value));
const any: Rule = {};
const when: Rule = { required: true, check: datetime };
const fraction: Rule = { check: number(0, 1) };
const extent: Rule = { check: number(1e-15, 1) };

const rules: Record<TableName, Record<string, Rule>> = {
  deployments: {
    deploymentID: { required: true, unique: true },
    locationID: any,
    locationName: any,
    latitude: { required: true, check: number(-90, 90) },
    longitude: { required: true, check: number(-180, 180) },
    coordinateUncertainty: { check: number(1, Number.MAX_SAFE_INTEGER, true) },
    deploymentStart: when,
    deploymentEnd: when,
    setupBy: any,
    cameraID: any,
    cameraModel: any,
    cameraDelay: { check: number(0, Number.MAX_SAFE_INTEGER, true) },
    cameraHeight: { check: number(0, Number.MAX_VALUE) },
    cameraDepth: { check: number(0, Number.MAX_VALUE) },
    cameraTilt: { check: number(-90, 90, true) },
    cameraHeading: { check: number(0, 360, true) },
    detectionDistance: { check: number(0, Number.MAX_VALUE) },
    timestampIssues: { check: truth },
    baitUse: { check: truth },
    featureType: any,
    habitat: any,
    deploymentGroups: any,
    deploymentTags: any,
    deploymentComments: any,
  },
  media: {
    mediaID: { required: true, unique: true },
    deploymentID: { required: true, refersTo: ['deployments', 'deploymentID'] },
    captureMethod: { check: oneOf('activityDetection', 'timeLapse') },
    timestamp: when,
    filePath: { required: true, check: (value) => /^(?=^[^./~])(^((?!\.{2}).)*$).*$/.test(value) },
    filePublic: { required: true, check: truth },
    fileName: any,
    fileMediatype: { required: true, check: (value) => /^(image|video|audio)\/.+$/.test(value) },
    exifData: any,
    favorite: { check: truth },
    mediaComments: any,
  },
  observations: {
    observationID: { required: true, unique: true },
    deploymentID: { required: true, refersTo: ['deployments', 'deploymentID'] },
    mediaID: { refersTo: ['media', 'mediaID'] },
    eventID: any,
    eventStart: when,
    eventEnd: when,
    observationLevel: { required: true, check: oneOf('media', 'event') },
    observationType: {
      required: true,
      check: oneOf('animal', 'human', 'vehicle', 'blank', 'unknown', 'unclassified'),
    },
    cameraSetupType: { check: oneOf('setup', 'calibration') },
    scientificName: any,
    count: { check: number(1, Number.MAX_SAFE_INTEGER, true) },
    lifeStage: any,
    sex: any,
    behavior: any,
    individualID: any,
    individualPositionRadius: any,
    individualPositionAngle: any,
    individualSpeed: any,
    bboxX: fraction,
    bboxY: fraction,
    bboxWidth: extent,
    bboxHeight: extent,
    classificationMethod: { check: oneOf('human', 'machine') },
    classifiedBy: any,
    classificationTimestamp: { check: datetime },
    classificationProbability: fraction,
    observationTags: any,
    observationComments: any,
  },
};

/** All that is wrong with the tables of a package by these rules, a line each. */
export function faultsOf(csv: Record<TableName, string>): string[] {
  const tables = Object.fromEntries(
    Object.entries(csv).map(([table, text]) => [table, parse(text, { columns: true }) as Row[]]),
  ) as Record<TableName, Row[]>;
  const faults: string[] = [];
  for (const [table, fields] of Object.entries(rules) as [TableName, Record<string, Rule>][]) {
    const [head] = parse(csv[table], { to_line: 1 }) as string[][];
    if (head?.join() !== Object.keys(fields).join()) faults.push(`${table}: columns ${head?.join()}`);
    for (const [field, rule] of Object.entries(fields)) {
      const values = tables[table].map((row) => row[field] ?? '');
      if (rule.unique && new Set(values).size < values.length) faults.push(`${table}.${field}: not unique`);
      const known = rule.refersTo && new Set(tables[rule.refersTo[0]].map((row) => row[rule.refersTo![1]]));
      for (const value of values) {
        const place = `${table}.${field}: ${value}`;
        if (value === '') {
          if (rule.required) faults.push(`${place} is empty`);
          continue;
        }
        if (rule.check && !rule.check(value)) faults.push(place);
        if (known && !known.has(value)) faults.push(`${place} refers to nothing`);
      }
    }
  }
  for (const {
    observationID,
    eventStart,
    eventEnd,
    observationLevel,
    mediaID,
    bboxX,
  } of tables.observations) {
    if (Date.parse(eventEnd!) < Date.parse(eventStart!))
      faults.push(`${observationID}: ends before it starts`);
    // A box is of one medium.
    if (bboxX !== '' && mediaID === '') faults.push(`${observationID}: a box of no medium`);
    if ((observationLevel === 'media') !== (mediaID !== ''))
      faults.push(`${observationID}: level and medium`);
  }
  return faults;
}
