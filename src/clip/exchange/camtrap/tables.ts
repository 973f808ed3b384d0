/**
 * Camtrap DP 1.0.2 (TDWG), https://camtrap-dp.tdwg.org. Which fields there are, which of them must be filled and what they hold
 * is as published; their order, and those of the package's descriptor, are from memory.
 */
const ROOT = 'https://raw.githubusercontent.com/tdwg/camtrap-dp/1.0.2';
export const PROFILE = `${ROOT}/camtrap-dp-profile.json`;

export type TableName = 'deployments' | 'media' | 'observations';

export const schemaOf = (table: TableName) => `${ROOT}/${table}-table-schema.json`;

export const deploymentColumns = [
  'deploymentID',
  'locationID',
  'locationName',
  'latitude',
  'longitude',
  'coordinateUncertainty',
  'deploymentStart',
  'deploymentEnd',
  'setupBy',
  'cameraID',
  'cameraModel',
  'cameraDelay',
  'cameraHeight',
  'cameraDepth',
  'cameraTilt',
  'cameraHeading',
  'detectionDistance',
  'timestampIssues',
  'baitUse',
  'featureType',
  'habitat',
  'deploymentGroups',
  'deploymentTags',
  'deploymentComments',
] as const;

export const mediaColumns = [
  'mediaID',
  'deploymentID',
  'captureMethod',
  'timestamp',
  'filePath',
  'filePublic',
  'fileName',
  'fileMediatype',
  'exifData',
  'favorite',
  'mediaComments',
] as const;

export const observationColumns = [
  'observationID',
  'deploymentID',
  'mediaID',
  'eventID',
  'eventStart',
  'eventEnd',
  'observationLevel',
  'observationType',
  'cameraSetupType',
  'scientificName',
  'count',
  'lifeStage',
  'sex',
  'behavior',
  'individualID',
  'individualPositionRadius',
  'individualPositionAngle',
  'individualSpeed',
  'bboxX',
  'bboxY',
  'bboxWidth',
  'bboxHeight',
  'classificationMethod',
  'classifiedBy',
  'classificationTimestamp',
  'classificationProbability',
  'observationTags',
  'observationComments',
] as const;

/** Columns without which a table cannot be read as labels. */
export const neededColumns = {
  deployments: ['deploymentID', 'deploymentStart', 'deploymentEnd'],
  observations: [
    'observationID',
    'deploymentID',
    'eventStart',
    'eventEnd',
    'observationLevel',
    'observationType',
  ],
} as const satisfies {
  deployments: readonly (typeof deploymentColumns)[number][];
  observations: readonly (typeof observationColumns)[number][];
};

export type DeploymentRow = Partial<Record<(typeof deploymentColumns)[number], string>>;
export type MediaRow = Partial<Record<(typeof mediaColumns)[number], string>>;
export type ObservationRow = Partial<Record<(typeof observationColumns)[number], string>>;
