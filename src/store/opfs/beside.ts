/** The file beside the journal's own two that is overwritten in place. */
export const besideName = 'beside.bin';
