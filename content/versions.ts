/** Content versions in this build, oldest first; a case is read with the version it names. */
export const contentVersions: string[] = ['2026.1'];
