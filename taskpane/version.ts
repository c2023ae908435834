/** The version that package.json and the manifest have. */
export const VERSION = "0.1.0";
